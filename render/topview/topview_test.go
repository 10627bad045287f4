package topview

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

func swept(t testing.TB, s *setup.Setup) *sweep.Result {
	t.Helper()
	r, err := sweep.Run(s, 2*s1.Degree)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// whole are the examples as they stand, swept and drawn on each paper, so that tests that look at the same drawing draw it once.
var whole = map[string]*standing{}

type standing struct {
	*sweep.Result
	sheet *sheet.Sheet
}

func drawn(t testing.TB, name string, paper sheet.Size) *standing {
	t.Helper()
	v := whole[name+paper.Name]
	if v == nil {
		v = &standing{Result: swept(t, example.Read(t, name))}
		var err error
		if v.sheet, err = Sheet(v.Result, Options{Options: sheet.Options{Paper: paper, Origin: sheet.Origin{Program: "locksweep"}}}); err != nil {
			t.Fatal(err)
		}
		whole[name+paper.Name] = v
	}
	return v
}

// sound draws a sheet and holds it against what holds for every sheet.
func sound(t *testing.T, what string, r *sweep.Result, o Options) seen {
	t.Helper()
	s, err := Sheet(r, o)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	return isSound(t, what, r, s)
}

// isSound holds a sheet against what holds for every one: no text over another, none without a place, none outside the frame,
// well-formed.
func isSound(t *testing.T, what string, r *sweep.Result, s *sheet.Sheet) seen {
	t.Helper()
	for _, pair := range s.Overlaps() {
		t.Errorf("%s: %q lies over %q", what, pair[0].Text, pair[1].Text)
	}
	for _, text := range s.Unplaced() {
		if !partName(r, text) {
			t.Errorf("%s: no room for %q", what, text)
		} else if !strings.Contains(string(s.Bytes()), "No room for") {
			t.Errorf("%s: the description does not tell that there was no room for %q", what, text)
		}
	}
	for _, box := range s.Texts() {
		if !s.Frame().Contains(box.Bounds()) {
			t.Errorf("%s: %q leaves the frame", what, box.Text)
		}
	}
	return look(t, s.Bytes())
}

// partName reports whether a text names a part: in a crowd some find no room, and the description of the
// drawing says which.
func partName(r *sweep.Result, text string) bool {
	if _, err := strconv.Atoi(text); err == nil { // of a part, which the list names all the same
		return len(r.Setup.Parts) >= 30
	}
	for i := range r.Setup.Parts {
		if strings.HasPrefix(r.Setup.Parts[i].Name, strings.TrimSuffix(text, "…")) {
			return len(r.Setup.Parts) >= 30
		}
	}
	return false
}

var papers = []sheet.Size{sheet.A4, sheet.Letter, sheet.A4.Landscape(), sheet.Letter.Landscape()}

// papersFor are those on which an example is looked at: all under -long, else one after the other.
func papersFor(example int) []sheet.Size {
	if trial.Long() {
		return papers
	}
	return []sheet.Size{papers[example%len(papers)]}
}

// TestExamplesAreSound as they stand, and in other poses each on one paper, or on all under -long.
func TestExamplesAreSound(t *testing.T) {
	for k, e := range fixtures.Examples {
		for _, paper := range papersFor(k) {
			v := drawn(t, e.Name, paper)
			isSound(t, e.Name+" on "+paper.Name, v.Result, v.sheet)
		}
		r := drawn(t, e.Name, papersFor(k)[0]).Result
		lock, half, past := r.Locks[sweep.ToLeft].Column, r.Locks[sweep.ToRight].Column/2, r.Locks[sweep.ToRight].Column*1.1
		for i, o := range []Options{{Pose: &lock}, {Pose: &half}, {Pose: &past}, {Keys: true}} {
			for n := range trial.Count(1, len(papers)) {
				o.Paper, o.Origin.Program = papers[(i+k+n)%len(papers)], "locksweep"
				sound(t, fmt.Sprintf("%s, drawing %d on %s", e.Name, i, o.Paper.Name), r, o)
			}
		}
	}
}

// scaled makes a setup without parts larger or smaller all over.
func scaled(s *setup.Setup, k float64) {
	tyre := func(t setup.Tyre) setup.Tyre {
		return setup.Tyre{Diameter: t.Diameter * k, Width: t.Width * k, Shoulder: t.Shoulder * k}
	}
	s.Spacing *= k
	s.Vehicle = setup.Vehicle{Wheelbase: s.Vehicle.Wheelbase * k, RearTrack: s.Vehicle.RearTrack * k, RearTyre: tyre(s.Vehicle.RearTyre)}
	for i := range s.Corners {
		c := &s.Corners[i]
		c.Kingpin.Height *= k
		c.Wheel.Offset, c.Wheel.Lead, c.Wheel.Tyre = c.Wheel.Offset*k, c.Wheel.Lead*k, tyre(c.Wheel.Tyre)
		c.Arm.Pickup, s.DropArm.Pins[i] = c.Arm.Pickup.Mul(k), s.DropArm.Pins[i].Mul(k)
		c.Rod.Length, c.Rod.Diameter = c.Rod.Length*k, c.Rod.Diameter*k
	}
	s.Column.Foot = s.Column.Foot.Mul(k)
}

// TestRandomSetupsAreSound: arms ahead and behind, wheels that turn the wrong way, inches, a vehicle of twelve metres and one
// of eight centimetres.
func TestRandomSetupsAreSound(t *testing.T) {
	drawn := 0
	seeds := trial.Count(8, 16)
	for seed := range uint64(seeds) {
		s := random.FromSeed(seed)
		scaled(s, [4]float64{1, 12, 0.08, 1}[seed%4])
		s.Unit = setup.Unit(seed / 4 % 2)
		r, err := sweep.Run(s, 4*s1.Degree)
		if err != nil {
			continue // pieces in touch straight ahead
		}
		drawn++
		half := r.Locks[seed%2].Column / 2
		for i, o := range []Options{{}, {Pose: &half}, {Keys: true}} {
			o.Paper = papers[(int(seed)+i)%len(papers)]
			sound(t, fmt.Sprintf("seed %d, drawing %d on %s", seed, i, o.Paper.Name), r, o)
		}
	}
	if drawn < seeds/2 {
		t.Errorf("only %d of %d setups could be swept", drawn, seeds)
	}
}

// crowded adds tubes over the front axle until there are thirty parts, with long names and hostile ones.
func crowded(s *setup.Setup) {
	for i := len(s.Parts); i < 30; i++ {
		name := fmt.Sprintf("bracket <%d> & \"tab\"", i)
		if i%3 == 0 {
			name = strings.Repeat("a very long name of a part ", 4) + fmt.Sprint(i)
		}
		x, y := float64(-450+i*19), float64(60+i*7)
		s.Parts = append(s.Parts, setup.Part{Name: name, Sides: [2]bool{i%4 > 0, i%4 > 0},
			Tube: &setup.Tube{Diameter: 12, Path: []r3.Vector{{X: x, Y: y, Z: 400}, {X: x + 40, Y: y + 20, Z: 420}}}})
	}
}

func TestThirtyPartsAreSound(t *testing.T) {
	some := example.Some()
	for i, e := range some[:trial.Every(2, len(some))] {
		s := example.Read(t, e.Name)
		crowded(s)
		sound(t, e.Name, swept(t, s), Options{Options: sheet.Options{Paper: papers[i%len(papers)]}})
	}
}

// TestScaleIsTrue measures the vehicle on paper.
func TestScaleIsTrue(t *testing.T) {
	r := swept(t, example.Read(t, "shed-kart"))
	for _, paper := range papers {
		s, err := Sheet(r, Options{Options: sheet.Options{Paper: paper}})
		if err != nil {
			t.Fatal(err)
		}
		drawing, k := look(t, s.Bytes()), float64(s.Scale)
		left, right := drawing.kingpins(t, 1)
		if got, want := right.X-left.X, 620*k; math.Abs(got-want) > 2*rounded {
			t.Errorf("%s: kingpins %.3f mm apart on paper, want %.3f", paper.Name, got, want)
		}
		axle := false
		for _, l := range drawing.strokes { // the rear axle line lies the wheelbase below the kingpins
			axle = axle || l[0].Y == l[1].Y && math.Abs(l[0].Y-left.Y-860*k) < 2*rounded && math.Abs(l[1].X-l[0].X) > 1060*k
		}
		if !axle {
			t.Errorf("%s: no rear axle line %.3f mm behind the kingpins", paper.Name, 860*k)
		}
	}
}

// TestContactsStandWhereTheyTouch finds the numbered points on paper.
func TestContactsStandWhereTheyTouch(t *testing.T) {
	r := swept(t, example.Read(t, "shed-kart"))
	drawing := sound(t, "shed-kart", r, Options{Options: sheet.Options{Paper: sheet.A4.Landscape()}})
	left, right := drawing.kingpins(t, 1.6)
	k := (right.X - left.X) / 620
	middle := left.Add(right).Mul(0.5)
	for _, d := range sweep.Directions {
		for i, l := range r.Locks[d].Chain {
			at := middle.Add(r2.Point{X: -l.Point.Y * k, Y: -l.Point.X * k})
			if l.Kind == sweep.Contact && i < mostPoints && !drawing.near(at, dot) && !drawing.leadsTo(at, dot) {
				t.Errorf("limit %d turning %s: no mark at %.2f", i+1, d, at)
			}
			if tag := fmt.Sprintf("%c%d", "LR"[d], i+1); !drawing.says(tag) {
				t.Errorf("no %s in strip and list", tag)
			}
		}
	}
}

// TestStripIsInOrder: the tags stand in the order of the limits, and the strip reaches as far as the locks.
func TestStripIsInOrder(t *testing.T) {
	for _, e := range fixtures.Examples {
		r := swept(t, example.Read(t, e.Name))
		for _, half := range []float64{30, 86} {
			d := &drawing{r: r}
			st := strip{drawing: d, middle: 100, half: half, far: 180 * s1.Degree}
			for _, dir := range sweep.Directions {
				d.marks[dir] = d.limits(dir)
				along := st.tags(dir)
				for i, a := range along {
					if i > 0 && a-along[i-1] < tagDistance-1e-9 || a > half {
						t.Errorf("%s, %s: rings at %.1f of %.1f mm", e.Name, dir, along, half)
					}
				}
			}
		}
	}
}

// TestTurnCentre compares the place of the turn's centre on paper with the plane formula for upright kingpins and
// stubs through them: it lies wheelbase · cot(outer) - spacing/2 from the middle (derived).
func TestTurnCentre(t *testing.T) {
	s := example.Read(t, "shed-kart", "kingpin.caster=0", "kingpin.inclination=0")
	r := swept(t, s)
	lock := &r.Locks[sweep.ToLeft].Pose
	drawing := sound(t, "upright kart", r, Options{Options: sheet.Options{Paper: sheet.A4}, Pose: &lock.Column})
	left, right := drawing.kingpins(t, 1)
	k := (right.X - left.X) / s.Spacing
	away := s.Vehicle.Wheelbase/math.Tan(float64(lock.Wheels[setup.Right].Steer)) - s.Spacing/2
	want := left.Add(right).Mul(0.5).Add(r2.Point{X: -away * k, Y: s.Vehicle.Wheelbase * k})
	if !drawing.near(want, 1.2) {
		t.Errorf("no turn centre at %.2f", want)
	}
}

// TestKeysAreNamed: the measuring drawing of each linkage carries the keys that the file cannot do without, and those of heights and
// angles; its likeness has arms, column and pins on the same sides as the vehicle.
func TestKeysAreNamed(t *testing.T) {
	turned := []string{"column.foot", "column.rake"}
	for name, own := range map[string][]string{
		"shed-kart": append(turned, "drop_arm.left", "drop_arm.right"), "pedal-quad": append(turned, "drop_arm.pin"),
		"beam-cyclekart": append(turned, "drop_arm.pin", "drag_link.pickup", "drag_link.length"), "rack-buggy": {"rack.left", "rack.right"},
	} {
		r := swept(t, example.Read(t, name))
		for _, paper := range papersFor(len(name)) {
			drawing := sound(t, name, r, Options{Options: sheet.Options{Paper: paper}, Keys: true})
			for _, key := range append([]string{"vehicle.wheelbase", "vehicle.rear_track", "vehicle.rear_tyre", "kingpin.spacing", "kingpin.height",
				"kingpin.inclination", "kingpin.caster", "wheel.offset", "wheel.lead", "wheel.toe", "wheel.camber", "wheel.tyre_diameter",
				"wheel.tyre_width", "arm.pickup", "tie_rod.length"}, own...) {
				if !drawing.says(key) {
					t.Errorf("%s on %s: no %s in the drawing", name, paper.Name, key)
				}
			}
		}
		like := likeness(r.Setup)
		for what, pair := range map[string][2]float64{
			"arm": {like.Corners[0].Arm.Pickup.X, r.Setup.Corners[0].Arm.Pickup.X}, "column": {like.Column.Foot.X, r.Setup.Column.Foot.X},
			"pin": {like.DropArm.Pins[0].X, r.Setup.DropArm.Pins[0].X},
		} {
			if pair[0]*pair[1] < 0 {
				t.Errorf("%s: the %s of the likeness lies at %g, that of the vehicle at %g", name, what, pair[0], pair[1])
			}
		}
	}
}

func TestSameBytes(t *testing.T) {
	for _, o := range []Options{{Options: sheet.Options{Paper: sheet.A4}}, {Options: sheet.Options{Paper: sheet.A4}, Keys: true}} {
		r := swept(t, example.Read(t, "cyclekart"))
		first, err := Sheet(r, o)
		second, _ := Sheet(swept(t, example.Read(t, "cyclekart")), o)
		if err != nil || !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Errorf("two drawings of one setup differ (%v)", err)
		}
	}
}

func FuzzNames(f *testing.F) {
	f.Add("Kart", "rail")
	f.Add("</svg><script>alert(1)</script>", "\"'><![CDATA[]]>")
	f.Add(strings.Repeat("W", 3000), "\x00\u202e\uffff\xff")
	s := example.Read(f, "pedal-quad")
	s.Parts = s.Parts[:2]
	base, err := sweep.Run(s, 45*s1.Degree)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, name, part string) {
		named, r := *s, *base
		model := *base.Model
		named.Name = name
		model.Setup, r.Model = &named, &model
		scene := *base.Scene
		scene.Pieces = append(scene.Pieces[:0:0], scene.Pieces...)
		for i := range scene.Pieces {
			if scene.Pieces[i].Part != nil {
				scene.Pieces[i].Name = part
			}
		}
		model.Scene = &scene
		drawn, err := Sheet(&r, Options{Options: sheet.Options{Paper: sheet.A4}})
		if err != nil {
			t.Fatal(err)
		}
		look(t, drawn.Bytes())
	})
}

// Both sheets of every example, written.
func BenchmarkTopView(b *testing.B) {
	for _, e := range fixtures.Examples {
		r := swept(b, example.Read(b, e.Name))
		b.Run(e.Name, func(b *testing.B) {
			for b.Loop() {
				sheets, err := Sheets(r, Options{Options: sheet.Options{Paper: sheet.A4.Landscape()}})
				if err != nil {
					b.Fatal(err)
				}
				for _, s := range sheets {
					s.Bytes()
				}
			}
		})
	}
}
