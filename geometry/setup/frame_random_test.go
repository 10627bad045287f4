package setup_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// randomFrame draws tubes and plates that are cut in every way: bends, corners and ends anywhere.
func randomFrame(t *rapid.T) []setup.Part {
	at := func(name string) r3.Vector {
		return r3.Vector{X: float64(rapid.IntRange(-1100, 200).Draw(t, name+"x")), Y: float64(rapid.IntRange(-400, 400).Draw(t, name+"y")), Z: float64(rapid.IntRange(0, 200).Draw(t, name+"z"))}
	}
	var parts []setup.Part
	for i := range rapid.IntRange(1, 4).Draw(t, "tubes") {
		tube := &setup.Tube{Diameter: 30}
		for k := range rapid.IntRange(2, 5).Draw(t, "points") {
			tube.Path = append(tube.Path, at(fmt.Sprint("t", i, k)))
		}
		if slices.Equal(slices.Compact(slices.Clone(tube.Path)), tube.Path) {
			parts = append(parts, setup.Part{Name: fmt.Sprint("tube ", i), Tube: tube})
		}
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "plates") {
		// A star about a middle: simple, and hollow in places.
		mid, n := at(fmt.Sprint("p", i)), rapid.IntRange(3, 8).Draw(t, "corners")
		plate := &setup.Plate{Lower: 10, Upper: 13}
		for k := range n {
			r := float64(rapid.IntRange(20, 400).Draw(t, "radius"))
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
			plate.Outline = append(plate.Outline, r2.Point{X: mid.X + r*cos, Y: mid.Y + r*sin})
		}
		parts = append(parts, setup.Part{Name: fmt.Sprint("plate ", i), Plate: plate})
	}
	return parts
}

func framed(parts []setup.Part) *setup.Setup {
	return &setup.Setup{Spacing: 2000, Vehicle: setup.Vehicle{Wheelbase: 1000, RearTrack: 2000}, Parts: slices.Clone(parts)}
}

func applied(t *rapid.T, parts []setup.Part, changes ...setup.Change) *setup.Setup {
	s := framed(parts)
	for _, c := range changes {
		s.Vehicle.Wheelbase = 1000 // so that a second change tapers as the first
		if refused := c.Apply(s); len(refused) > 0 {
			t.Fatalf("%+v: %v", c, refused)
		}
	}
	return s
}

func cut(t *rapid.T) setup.Change {
	return setup.Change{
		Narrow: float64(rapid.IntRange(-200, 500).Draw(t, "narrow")), NarrowRear: float64(rapid.IntRange(-200, 500).Draw(t, "narrow_rear")),
		Shorten: 20 * float64(rapid.IntRange(-10, 20).Draw(t, "shorten")), ShortenAt: float64(rapid.IntRange(-600, -1).Draw(t, "shorten_at")),
	}
}

// TestTwiceHalfEqualsOnceWhole: taking out half twice, where nothing is told to be made anew, since that stays
// where it was.
func TestTwiceHalfEqualsOnceWhole(t *testing.T) {
	tried := 0
	trial.Check(t, func(t *rapid.T) {
		parts := randomFrame(t)
		c := cut(t)
		if rapid.Bool().Draw(t, "length") {
			c.Narrow, c.NarrowRear = 0, 0
		} else {
			c.Shorten = 0
		}
		half := c
		half.Narrow, half.NarrowRear, half.Shorten = c.Narrow/2, c.NarrowRear/2, c.Shorten/2
		once, twice := applied(t, parts, c), applied(t, parts, half, half)
		if once.Frame == nil {
			t.Skip("nothing is taken out")
		}
		for _, p := range once.Frame.Parts {
			if p.Narrowed == setup.Remade || len(once.Parts) != len(parts) {
				t.Skip("what is to be made anew stays where it was")
			}
		}
		tried++
		// An outline that is put together anew may begin elsewhere and be told with or without corners on a straight
		// edge: areas are compared instead.
		if diff := cmp.Diff(withoutSteps(once.Parts, c), withoutSteps(twice.Parts, c), rounding); diff != "" {
			t.Fatalf("%+v of %v: once - twice +\n%s", c, tubes(parts), diff)
		}
		if a, b := plateArea(once.Parts), plateArea(twice.Parts); math.Abs(a-b) > 1e-5 && !cornerInStrip(parts, once.Frame.Strip) {
			t.Fatalf("%+v of %s: plates of %v once, %v twice\n%s\n%s", c, plates(parts), a, b, plates(once.Parts), plates(twice.Parts))
		}
	})
	if tried < trial.Enough(20) {
		t.Errorf("only %d frames tried", tried)
	}
}

func tubes(parts []setup.Part) (list []setup.Tube) {
	for _, p := range parts {
		if p.Tube != nil {
			list = append(list, *p.Tube)
		}
	}
	return list
}

// cornerInStrip reports whether a corner of a plate lies in the strip: such a plate may be put together from its halves
// (TestNotchInTheStrip), with a step where two edges on a slant meet.
func cornerInStrip(parts []setup.Part, strip setup.Strip) bool {
	return slices.ContainsFunc(parts, func(p setup.Part) bool {
		return p.Plate != nil && slices.ContainsFunc(p.Plate.Outline, func(q r2.Point) bool { return math.Abs(q.Y) < strip.Width(q.X)/2 })
	})
}

// plates writes the outlines of plates.
func plates(parts []setup.Part) (said string) {
	for _, p := range parts {
		if p.Plate != nil {
			said += fmt.Sprintf("%s %v\n", p.Name, p.Plate.Outline)
		}
	}
	return said
}

// withoutSteps returns the tubes without what only joins two ends that miss each other at the cut: of points that lie on
// it one after the other the first and the last are kept, one of them at either end of a tube. Nor has it points on a
// straight run.
func withoutSteps(parts []setup.Part, c setup.Change) (list []setup.Tube) {
	on := func(p r3.Vector) bool { return c.Shorten > 0 && math.Abs(p.X-c.ShortenAt) < 1e-9 }
	for _, tube := range tubes(parts) {
		var path []r3.Vector
		for i, p := range tube.Path {
			before, after := i > 0 && on(tube.Path[i-1]), i+1 < len(tube.Path) && on(tube.Path[i+1])
			starts, ends := len(path) == 0, !slices.ContainsFunc(tube.Path[i:], func(q r3.Vector) bool { return !on(q) })
			switch {
			case on(p) && (before && after || starts && after || ends && before):
			default:
				path = append(path, p)
			}
		}
		for i := len(path) - 2; i > 0; i-- {
			a, b := path[i].Sub(path[i-1]), path[i+1].Sub(path[i])
			if a.Dot(b) > 0 && a.Cross(b).Norm() < 1e-6*max(a.Norm(), b.Norm()) {
				path = slices.Delete(path, i, i+1)
			}
		}
		if len(path) > 1 {
			list = append(list, setup.Tube{Diameter: tube.Diameter, Path: path})
		}
	}
	return list
}

func area(o []r2.Point) (sum float64) {
	for i, p := range o {
		sum += p.Cross(o[(i+1)%len(o)]) / 2
	}
	return sum
}

func plateArea(parts []setup.Part) (sum float64) {
	for _, p := range parts {
		if p.Plate != nil {
			sum += area(p.Plate.Outline)
		}
	}
	return sum
}

// TestMirroredFrameStaysMirrored: the frame's mirror image, cut, is the mirror image of the cut frame.
func TestMirroredFrameStaysMirrored(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		parts, c := randomFrame(t), cut(t)
		got, want := applied(t, mirrored(parts), c), mirrored(applied(t, parts, c).Parts)
		if diff := cmp.Diff(tubes(want), tubes(got.Parts), rounding); diff != "" {
			t.Fatalf("%+v of %+v: mirror image - cut mirror image +\n%s", c, parts, diff)
		}
		if a, b := plateArea(want), plateArea(got.Parts); math.Abs(a-b) > 1e-5 {
			t.Fatalf("%+v of %s: plates of %v, mirrored %v: %s, %s", c, plates(parts), a, b, plates(want), plates(got.Parts))
		}
	})
}

func mirrored(parts []setup.Part) []setup.Part {
	out := slices.Clone(parts)
	for i, p := range out {
		if p.Tube != nil {
			path := slices.Clone(p.Tube.Path)
			for k := range path {
				path[k].Y = 0 - path[k].Y
			}
			out[i].Tube = &setup.Tube{Diameter: p.Tube.Diameter, Path: path}
		}
		if p.Plate != nil {
			outline := slices.Clone(p.Plate.Outline)
			for k := range outline {
				outline[k].Y = 0 - outline[k].Y
			}
			slices.Reverse(outline)
			out[i].Plate = &setup.Plate{Outline: outline, Lower: p.Plate.Lower, Upper: p.Plate.Upper}
		}
	}
	return out
}

// TestShortenedFrameIsTheOldOneInTwoHalves: a point is metal of the shortened frame just where the point that it was
// before is metal of the old one. Plates are asked point by point (even-odd rule), tubes by the distance of points on them.
func TestShortenedFrameIsTheOldOneInTwoHalves(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		parts, c := randomFrame(t), cut(t)
		c.Narrow, c.NarrowRear, c.Shorten = 0, 0, math.Abs(c.Shorten)
		if c.Shorten == 0 {
			t.Skip("nothing is taken out")
		}
		s := applied(t, parts, c)
		before := func(x float64) float64 {
			if x < c.ShortenAt {
				return x - c.Shorten
			}
			return x
		}
		for x := -1400.5; x < 600; x += 37 {
			for y := -800.5; y < 800; y += 41 {
				now, was := onPlate(s.Parts, x, y), onPlate(parts, before(x), y)
				if now != was && math.Abs(x-c.ShortenAt) > 0.01 && !onEdge(s.Parts, x, y) {
					t.Fatalf("%+v of %+v: [%v, %v] is metal: %v, was %v", c, parts, x, y, now, was)
				}
			}
		}
		kept := 0.0
		for _, tube := range tubes(parts) {
			kept += lengthWhere(tube.Path, func(x float64) bool { return x >= c.ShortenAt || x <= c.ShortenAt-c.Shorten })
		}
		now := 0.0
		for _, tube := range tubes(s.Parts) {
			for i := 1; i < len(tube.Path); i++ {
				if a, b := tube.Path[i-1], tube.Path[i]; math.Abs(a.X-c.ShortenAt)+math.Abs(b.X-c.ShortenAt) > 1e-9 {
					now += b.Sub(a).Norm() // not a step at the cut
				}
			}
		}
		if math.Abs(now-kept) > 3 { // steps are counted out, and so are pieces that run along the cut
			if !alongCut(parts, c) {
				t.Fatalf("%+v of %+v: %v of tube is left, %v lay outside the cuts", c, parts, now, kept)
			}
		}
	})
}

// alongCut reports whether a tube runs square across just at a cut, where it cannot be told from a step.
func alongCut(parts []setup.Part, c setup.Change) bool {
	for _, tube := range tubes(parts) {
		for i := 1; i < len(tube.Path); i++ {
			if a, b := tube.Path[i-1].X, tube.Path[i].X; a == b && (a == c.ShortenAt || a == c.ShortenAt-c.Shorten) {
				return true
			}
		}
	}
	return false
}

// lengthWhere measures what of a path lies at an x that is wanted, by walking it in small steps.
func lengthWhere(path []r3.Vector, wanted func(x float64) bool) (sum float64) {
	const steps = 4000
	for i := 1; i < len(path); i++ {
		run := path[i].Sub(path[i-1])
		for k := range steps {
			if wanted(path[i-1].X + run.X*(float64(k)+0.5)/steps) {
				sum += run.Norm() / steps
			}
		}
	}
	return sum
}

func onPlate(parts []setup.Part, x, y float64) bool {
	for _, p := range parts {
		if p.Plate == nil {
			continue
		}
		in := false
		for i, a := range p.Plate.Outline {
			b := p.Plate.Outline[(i+1)%len(p.Plate.Outline)]
			if (a.Y > y) != (b.Y > y) && x < a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
				in = !in
			}
		}
		if in {
			return true
		}
	}
	return false
}

// onEdge reports whether a point lies on the edge of a plate, where rounding decides.
func onEdge(parts []setup.Part, x, y float64) bool {
	const off = 1e-6
	first := onPlate(parts, x-off, y-off)
	return onPlate(parts, x+off, y-off) != first || onPlate(parts, x-off, y+off) != first || onPlate(parts, x+off, y+off) != first
}
