package setup_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"locksweep/fixtures/example"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
)

// donor is a kart of 1000 mm wheelbase, kingpins 600 mm apart; its figures are invented.
const donor = `locksweep = 1
units = "mm"
vehicle = { wheelbase = 1000, rear_track = 900, rear_tyre = { diameter = 280, width = 150 } }
kingpin = { spacing = 600, height = 130 }
wheel = { offset = 120, tyre_diameter = 260, tyre_width = 130 }
arm = { pickup = [-95, -30, 0] }
column = { foot = [-95, 0, 130], rake = 35 }
drop_arm = { pin = [55, 0, 4] }
ignore = [["cross tube", "drop arm"]]
[[part]]
name = "side rail"
on = "frame"
mirror = true
tube = { diameter = 30, path = [[-1000, 350, 50], [-700, 350, 50], [-300, 250, 50], [0, 250, 90]] }
[[part]]
name = "hoop"
on = "frame"
tube = { diameter = 28, path = [[0, 250, 60], [120, 200, 60], [160, 180, 60], [160, -180, 60], [120, -200, 60], [0, -250, 60]] }
[[part]]
name = "tray"
on = "frame"
plate = { outline = [[-800, -240], [100, -200], [100, 200], [-800, 240]], up = [30, 33] }
[[part]]
name = "cross tube"
on = "frame"
tube = { diameter = 25, path = [[-450, 280, 50], [-450, -280, 50]] }
[[part]]
name = "bush"
on = "frame"
tube = { diameter = 22, path = [[-40, -60, 62], [-56, -34, 112]] }
[[part]]
name = "tank"
on = "frame"
disc = { centre = [-500, 200, 150], axis = [0, 0, 1], diameter = 120, width = 100 }
[[part]]
name = "hub"
on = "spindle"
tube = { diameter = 40, path = [[0, 20, 0], [0, 70, 0]] }
[[part]]
name = "yoke"
on = "frame"
at = "kingpin"
plate = { outline = [[-18, -62], [-18, 8], [18, 8], [18, -62]], up = [28, 36] }
`

// TestFrameCutEqualsTheFrameEditedByHand: every corner where arithmetic by hand puts it.
func TestFrameCutEqualsTheFrameEditedByHand(t *testing.T) {
	for _, c := range []struct{ name, change, edit string }{
		{"narrowed", "change={narrow=200,narrow_rear=100}", `kingpin.spacing=400;vehicle.rear_track=800;` +
			// The strip is 200 at x = 0 and ahead, 130 at -700, 170 at -300, 155 at -450, 150 at -500, 100 at -1000.
			`part."side rail".tube.path=[[-1000,300,50],[-700,285,50],[-300,165,50],[0,150,90]];` +
			`part.hoop.tube.path=[[0,150,60],[120,100,60],[160,80,60],[160,-80,60],[120,-100,60],[0,-150,60]];` +
			`part.tray.plate.outline=[[-800,-180],[100,-100],[100,100],[-800,180]];` +
			`part."cross tube".tube.path=[[-450,202.5,50],[-450,-202.5,50]];part.tank.disc.centre=[-500,125,150]`},
		{"widened", "change.narrow=-40;change.narrow_rear=-40", `kingpin.spacing=640;vehicle.rear_track=940;` +
			`part."side rail".tube.path=[[-1000,370,50],[-700,370,50],[-300,270,50],[0,270,90]];` +
			`part.hoop.tube.path=[[0,270,60],[120,220,60],[160,200,60],[160,-200,60],[120,-220,60],[0,-270,60]];` +
			`part.tray.plate.outline=[[-800,-260],[100,-220],[100,220],[-800,260]];part.bush.tube.path=[[-40,-80,62],[-56,-54,112]];` +
			`part."cross tube".tube.path=[[-450,300,50],[-450,-300,50]];part.tank.disc.centre=[-500,220,150]`},
		{"front alone", "change.narrow=100", `kingpin.spacing=500;` +
			`part."side rail".tube.path=[[-1000,350,50],[-700,335,50],[-300,215,50],[0,200,90]];` +
			`part.hoop.tube.path=[[0,200,60],[120,150,60],[160,130,60],[160,-130,60],[120,-150,60],[0,-200,60]];` +
			`part.tray.plate.outline=[[-800,-230],[100,-150],[100,150],[-800,230]];part.bush.tube.path=[[-40,-12,62],[-56,0,112]];` +
			`part."cross tube".tube.path=[[-450,252.5,50],[-450,-252.5,50]];part.tank.disc.centre=[-500,175,150]`},
		{"kept", "change={narrow=200,narrow_rear=100,shorten=100,keep_frame=true}", "kingpin.spacing=400;vehicle.rear_track=800;vehicle.wheelbase=900"},
		// Rails and tray taper between the cuts: what comes forward meets what stays with a step.
		{"shortened", "change={shorten=100,shorten_at=-350}", `vehicle.wheelbase=900;` +
			`part."side rail".tube.path=[[-900,350,50],[-600,350,50],[-350,287.5,50],[-350,262.5,50],[-300,250,50],[0,250,90]];` +
			`part.tray.plate.outline=[[-700,-240],[-350,-224.444444444444],[-350,-220],[100,-200],[100,200],[-350,220],[-350,224.444444444444],[-700,240]];` +
			`part."cross tube".tube.path=[[-350,280,50],[-350,-280,50]];part.tank.disc.centre=[-400,200,150]`},
		{"lengthened", "change={shorten=-100,shorten_at=-800}", `vehicle.wheelbase=1100;` +
			`part."side rail".tube.path=[[-1100,350,50],[-700,350,50],[-300,250,50],[0,250,90]]`},
		{"lengthened across tray and rail", "change={shorten=-100,shorten_at=-400}", `vehicle.wheelbase=1100;` +
			`part."side rail".tube.path=[[-1100,350,50],[-800,350,50],[-500,275,50],[-400,275,50],[-300,250,50],[0,250,90]];` +
			`part.tray.plate.outline=[[-900,-240],[-500,-222.222222222222],[-400,-222.222222222222],[100,-200],[100,200],[-400,222.222222222222],[-500,222.222222222222],[-900,240]];` +
			`part."cross tube".tube.path=[[-550,280,50],[-550,-280,50]];part.tank.disc.centre=[-600,200,150]`},
		{"on a straight run", "change={shorten=60,shorten_at=-820}", `vehicle.wheelbase=940;` +
			`part."side rail".tube.path=[[-940,350,50],[-700,350,50],[-300,250,50],[0,250,90]]`},
	} {
		t.Run(c.name, func(t *testing.T) {
			changed := mustRead(t, donor, setupfile.Options{Set: strings.Split(c.change, ";")})
			edited := mustRead(t, donor, setupfile.Options{Set: strings.Split(c.edit, ";")})
			if diff := cmp.Diff(edited, changed, rounding, outlineFrom, cmpopts.IgnoreFields(setup.Setup{}, "Changes", "Frame", "Name")); diff != "" {
				t.Errorf("by hand - changed +\n%s", diff)
			}
		})
	}
}

// TestStripWidth: as wide ahead of the kingpins as at them, behind the rear axle as at it, straight between.
func TestStripWidth(t *testing.T) {
	strip := setup.Strip{Front: 200, Rear: 100, Wheelbase: 1000}
	for x, want := range map[float64]float64{300: 200, 0: 200, -250: 175, -500: 150, -1000: 100, -1400: 100} {
		if got := strip.Width(x); got != want {
			t.Errorf("at %v: %v wide, want %v", x, got, want)
		}
	}
}

// TestColumnGoesAlong: with what its foot stands on, in both directions.
func TestColumnGoesAlong(t *testing.T) {
	for _, c := range []struct {
		foot, change string
		want         r3.Vector
		fate         setup.Fate
	}{
		{"[-95, 0, 130]", "change={shorten=60,shorten_at=-30}", r3.Vector{X: -35, Z: 130}, setup.Moves},
		{"[-95, 0, 130]", "change={shorten=60,shorten_at=-80}", r3.Vector{X: -95, Z: 130}, setup.Lost},
		{"[-95, 0, 130]", "change={shorten=60,shorten_at=-95}", r3.Vector{X: -95, Z: 130}, setup.Stays},
		{"[-500, 180, 130]", "change={narrow=200,narrow_rear=100}", r3.Vector{X: -500, Y: 105, Z: 130}, setup.Moves},
		{"[-500, -60, 130]", "change={narrow=200,narrow_rear=100}", r3.Vector{X: -500, Y: -60, Z: 130}, setup.Remade},
		{"[-95, 0, 130]", "change={narrow=200,narrow_rear=100}", r3.Vector{X: -95, Z: 130}, setup.Stays},
	} {
		s := mustRead(t, donor, setupfile.Options{Set: []string{"column.foot=" + c.foot, c.change}})
		if s.Column.Foot != c.want || s.Frame.Foot != c.fate {
			t.Errorf("%s, %s: foot %v, fate %v, want %v, %v", c.foot, c.change, s.Column.Foot, s.Frame.Foot, c.want, c.fate)
		}
	}
}

// TestWhatBecomesOfEachPart: moved, cut, lost, to be made anew.
func TestWhatBecomesOfEachPart(t *testing.T) {
	for _, c := range []struct {
		change string
		want   string
		foot   setup.Fate
	}{
		{"change={narrow=200,narrow_rear=200}", "side rail: moves, stays; hoop: cut, stays; tray: cut, stays; cross tube: cut, stays; bush: remade, stays; tank: moves, stays", setup.Stays},
		{"change={narrow=200}", "side rail: reshaped, stays; hoop: cut, stays; tray: cut, stays; cross tube: cut, stays; bush: remade, stays; tank: moves, stays", setup.Stays},
		{"change={shorten=100,shorten_at=-420}", "side rail: stays, cut; hoop: stays, stays; tray: stays, cut; cross tube: stays, lost; bush: stays, stays; tank: stays, lost", setup.Stays},
		{"change={shorten=100,shorten_at=-350}", "side rail: stays, cut; hoop: stays, stays; tray: stays, cut; cross tube: stays, moves; bush: stays, stays; tank: stays, moves", setup.Stays},
		{"change={shorten=60,shorten_at=-30}", "side rail: stays, cut; hoop: stays, stays; tray: stays, cut; cross tube: stays, moves; bush: stays, lost; tank: stays, moves", setup.Moves},
		{"change={shorten=100,shorten_at=-30}", "side rail: stays, cut; hoop: stays, stays; tray: stays, cut; cross tube: stays, moves; bush: stays, lost; tank: stays, moves", setup.Lost},
	} {
		s := mustRead(t, donor, setupfile.Options{Set: []string{c.change}})
		words := [...]string{"stays", "moves", "reshaped", "cut", "remade", "lost"}
		var got []string
		for _, p := range s.Frame.Parts {
			got = append(got, fmt.Sprintf("%s: %s, %s", p.Name, words[p.Narrowed], words[p.Shortened]))
			there := slices.ContainsFunc(s.Parts, func(q setup.Part) bool { return q.Name == p.Name })
			if there != (p.Shortened != setup.Lost) {
				t.Errorf("%s: %s is there: %v", c.change, p.Name, there)
			}
		}
		if strings.Join(got, "; ") != c.want || s.Frame.Foot != c.foot {
			t.Errorf("%s\n got %s, foot %v\nwant %s, foot %v", c.change, strings.Join(got, "; "), s.Frame.Foot, c.want, c.foot)
		}
	}
}

// TestCutListOfTubes: lengths and places of cuts along each tube, worked out by hand.
func TestCutListOfTubes(t *testing.T) {
	slope := math.Hypot(400, 100) // of the rail between its bends, 400 mm of length
	for _, c := range []struct {
		change, part string
		want         setup.TubeCut
	}{
		// 160 to 180 of the hoop lie 134.16 and 44.72 from its end; the strip's edge is 80 further in.
		{"change={narrow=200,narrow_rear=200}", "hoop", setup.TubeCut{Left: true, Pieces: 1, Old: 2*(130+math.Sqrt(2000)) + 360, New: 2*(130+math.Sqrt(2000)) + 160,
			Out: []setup.Stretch{{From: 130 + math.Sqrt(2000) + 80, To: 130 + math.Sqrt(2000) + 280}}}},
		{"change={narrow=200,narrow_rear=200}", "cross tube", setup.TubeCut{Left: true, Pieces: 1, Old: 560, New: 360, Out: []setup.Stretch{{From: 180, To: 380}}}},
		{"change={narrow=-60,narrow_rear=-60}", "cross tube", setup.TubeCut{Left: true, Pieces: 1, Old: 560, New: 620, Out: []setup.Stretch{{From: 280, To: 280, Apart: 60}}}},
		{"change={shorten=60,shorten_at=-820}", "side rail", setup.TubeCut{Pieces: 1, Old: 600 + slope + math.Hypot(300, 40) - 300, New: 540 + slope + math.Hypot(300, 40) - 300,
			Out: []setup.Stretch{{From: math.Hypot(300, 40) + slope + 120, To: math.Hypot(300, 40) + slope + 180}}}},
		// Across the taper the ends miss each other by a quarter of what is cut out.
		{"change={shorten=100,shorten_at=-350}", "side rail", setup.TubeCut{Pieces: 1, Old: 300 + slope + math.Hypot(300, 40), New: 325 + slope*0.75 + math.Hypot(300, 40),
			Out: []setup.Stretch{{From: math.Hypot(300, 40) + slope/8, To: math.Hypot(300, 40) + slope*3/8, Apart: 25}}}},
		{"change={shorten=-50,shorten_at=-900}", "side rail", setup.TubeCut{Pieces: 1, Old: 300 + slope + math.Hypot(300, 40), New: 350 + slope + math.Hypot(300, 40),
			Out: []setup.Stretch{{From: math.Hypot(300, 40) + slope + 200, To: math.Hypot(300, 40) + slope + 200, Apart: 50}}}},
		// Square across, the left end is the front one, whichever comes first in the file; one that ends in the strip is cut off.
		{`part."cross tube".tube.path=[[-450,-20,50],[-450,280,50]];change={narrow=200,narrow_rear=200}`, "cross tube",
			setup.TubeCut{Left: true, Pieces: 1, Old: 300, New: 180, Out: []setup.Stretch{{From: 180, To: 300}}}},
		{`part."cross tube".tube.path=[[-450,280,50],[-450,-20,50]];change={narrow=200,narrow_rear=200}`, "cross tube",
			setup.TubeCut{Left: true, Pieces: 1, Old: 300, New: 180, Out: []setup.Stretch{{From: 180, To: 300}}}},
		// A tube that bends in the strip is cut once all the same.
		{`part."cross tube".tube.path=[[-450,280,50],[-450,0,90],[-450,-280,50]];change={narrow=140,narrow_rear=140}`, "cross tube",
			setup.TubeCut{Left: true, Pieces: 1, Old: 2 * math.Hypot(280, 40), New: 2 * math.Hypot(210, 40),
				Out: []setup.Stretch{{From: math.Hypot(210, 30), To: 2*math.Hypot(280, 40) - math.Hypot(210, 30), Apart: 2 * (math.Hypot(210, 40) - math.Hypot(210, 30))}}}},
	} {
		s := mustRead(t, donor, setupfile.Options{Set: strings.Split(c.change, ";")})
		i := slices.IndexFunc(s.Frame.Parts, func(p setup.PartCut) bool { return p.Name == c.part })
		got := s.Frame.Parts[i].Tube
		if c.part == "side rail" && strings.Contains(c.change, "-820") {
			c.want.Old, c.want.New = 300+slope+math.Hypot(300, 40), 240+slope+math.Hypot(300, 40)
		}
		if diff := cmp.Diff(&c.want, got, rounding); diff != "" {
			t.Errorf("%s, %s: want - got +\n%s", c.change, c.part, diff)
		}
		if !got.Fits() {
			t.Errorf("%s, %s: pieces do not fit: %+v", c.change, c.part, got)
		}
	}
	bent := mustRead(t, donor, setupfile.Options{Set: []string{"change.narrow=100"}}).Frame.Parts[0].Tube
	if bent.Fits() || len(bent.Out) > 0 {
		t.Errorf("a rail whose taper changes fits uncut: %+v", bent)
	}
}

// TestNotchInTheStrip: what would fold is put together from its halves; area for area what lay outside the strip.
func TestNotchInTheStrip(t *testing.T) {
	tray := setup.Part{Name: "tray", Plate: &setup.Plate{Upper: 3, Outline: []r2.Point{
		{X: -600, Y: -200}, {X: 100, Y: -200}, {X: 100, Y: -50}, {X: 40, Y: -50}, {X: 40, Y: 50}, {X: 100, Y: 50}, {X: 100, Y: 200}, {X: -600, Y: 200}}}}
	s := framed([]setup.Part{tray})
	setup.Change{Narrow: 200, NarrowRear: 200}.Apply(s)
	want := []r2.Point{{X: -600, Y: -100}, {X: 100, Y: -100}, {X: 100, Y: 100}, {X: -600, Y: 100}}
	if len(s.Parts) != 1 || !cmp.Equal(want, s.Parts[0].Plate.Outline, outlineFrom) {
		t.Errorf("got %v, want one plate %v", s.Parts[0].Plate.Outline, want)
	}
	// A strip that leaves of the tongue in the notch nothing but two stumps apart.
	s = framed([]setup.Part{{Name: "fork", Plate: &setup.Plate{Upper: 3, Outline: []r2.Point{
		{X: 0, Y: -200}, {X: 100, Y: -200}, {X: 100, Y: 200}, {X: 60, Y: 200}, {X: 60, Y: -150}, {X: 40, Y: -150}, {X: 40, Y: 200}, {X: 0, Y: 200}}}}})
	before := plateArea(s.Parts)
	setup.Change{Narrow: 200}.Apply(s)
	if got, want := plateArea(s.Parts), before-200*80; math.Abs(got-want) > 1e-6 {
		t.Errorf("fork: %v mm² are left, want %v", got, want)
	}
}

// TestWaistInTheStrip: a plate whose waist lies in the strip falls in two, since nothing of the waist is left.
func TestWaistInTheStrip(t *testing.T) {
	s := framed([]setup.Part{{Name: "waist", Plate: &setup.Plate{Upper: 3, Outline: []r2.Point{
		{X: -100, Y: -100}, {X: 0, Y: -10}, {X: 100, Y: -100}, {X: 100, Y: 100}, {X: 0, Y: 10}, {X: -100, Y: 100}}}}})
	setup.Change{Narrow: 56, NarrowRear: 56}.Apply(s)
	// Beyond 28 either way the edges stand 20 from the middle and more: two triangles of 80 by 72, doubled.
	if len(s.Parts) != 2 || s.Parts[1].Name != "waist, piece 2" {
		t.Fatalf("%d parts, want two", len(s.Parts))
	}
	for _, p := range s.Parts {
		if got := area(p.Plate.Outline); math.Abs(got-80*72) > 1e-6 {
			t.Errorf("%s: %v mm², want %v", p.Name, got, 80*72)
		}
	}
}

// TestPiecesOfOnePart: a tube that bends between the cuts falls into two, each with a name, both ignored where it was.
func TestPiecesOfOnePart(t *testing.T) {
	s := mustRead(t, donor, setupfile.Options{Set: []string{
		`part."cross tube".tube.path=[[-300,200,50],[-450,100,50],[-450,-100,50],[-300,-200,50]]`, "change={shorten=200,shorten_at=-400}"}})
	var names []string
	for _, p := range s.Parts {
		if strings.HasPrefix(p.Name, "cross tube") {
			names = append(names, p.Name)
			if end := p.Tube.Path[0]; end.X != -300 && p.Tube.Path[1].X != -300 {
				t.Errorf("%s: %v", p.Name, p.Tube.Path)
			}
		}
	}
	if want := []string{"cross tube", "cross tube, piece 2"}; !slices.Equal(names, want) {
		t.Errorf("pieces %q, want %q", names, want)
	}
	if want := [][2]string{{"cross tube", "drop arm"}, {"cross tube, piece 2", "drop arm"}}; !cmp.Equal(s.Ignore, want) {
		t.Errorf("ignored %q, want %q", s.Ignore, want)
	}
}

// TestRefusedCuts: what leaves nothing, or lies past an axle.
func TestRefusedCuts(t *testing.T) {
	for _, c := range []struct{ set, want string }{
		{"change.narrow_rear=900", "change.narrow_rear: leaves nothing: the rear tyres are only 900 mm apart"},
		{"change.narrow=2000", "change.narrow: leaves nothing: the kingpins are only "},
		{"change.shorten=1000", "change.shorten: leaves nothing: the wheelbase is only 1000 mm"},
		{"change.shorten=600", "change.shorten: puts the cuts at -500 mm and -1100 mm, but they have to lie between the kingpins, at 0, and the rear axle, at -1000 mm; they need a shorten_at of at least -400 mm"},
		{"change={shorten=100,shorten_at=-950}", "change.shorten_at: puts the cuts at -950 mm and -1050 mm"},
		{"change={shorten=100,shorten_at=300}", "change.shorten_at: is 300, must be less than 0: behind the kingpins"},
		{"change={shorten=100,shorten_at=0}", "change.shorten_at: is 0, must be less than 0"},
		{"change.keep_frame=1", "should be true or false"},
	} {
		refuses(t, donor, c.set, c.want)
	}
}

// TestAFrameThatCannotBeCutIsPutDownToItsCut: a plate without area, of which nothing is left, is refused by the key of what was to be cut:
// of the length before the front, and of the front before the rear.
func TestAFrameThatCannotBeCutIsPutDownToItsCut(t *testing.T) {
	for _, c := range []struct {
		change setup.Change
		key    string
	}{
		{setup.Change{NarrowRear: 11}, "narrow_rear"},
		{setup.Change{Narrow: 11}, "narrow"},
		{setup.Change{Narrow: 11, NarrowRear: 11}, "narrow"},
		{setup.Change{Narrow: 11, NarrowRear: 11, Shorten: 20}, "shorten"},
	} {
		s := example.Read(t, "shed-kart")
		line := []r2.Point{{X: -694, Y: 99}, {X: -694, Y: -1}, {X: -694, Y: -101}}
		s.Parts = []setup.Part{{Name: "tray", On: setup.OnFrame, Plate: &setup.Plate{Outline: line, Lower: 10, Upper: 20}}}
		if refused := c.change.Apply(s); len(refused) != 1 || refused[0].Key != c.key || refused[0].Why != setup.FrameUncut || refused[0].Err == nil {
			t.Errorf("%+v: %+v, want it refused for %s", c.change, refused, c.key)
		}
	}
}

// TestNothingIsDoneToADropArmThatIsNotThere: each change of a drop arm is refused of a rack, and none is made.
func TestNothingIsDoneToADropArmThatIsNotThere(t *testing.T) {
	s := example.Read(t, "rack-buggy")
	var keys []string
	for _, r := range (setup.Change{TurnDropArmOver: true, LengthenDropArm: [2]float64{0, 5}, OneHole: true}).Apply(s) {
		if keys = append(keys, r.Key); r.Why != setup.NoDropArm {
			t.Errorf("%+v, want it for want of a drop arm", r)
		}
	}
	if want := []string{"turn_drop_arm_over", "lengthen_drop_arm", "one_hole"}; !slices.Equal(keys, want) || len(s.Changes) > 0 {
		t.Errorf("refused %q, made %v, want %q and none", keys, s.Changes, want)
	}
}
