package sheet

import (
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"locksweep/fixtures/trial"
	"locksweep/geometry/planar"
)

// TestLeaderKeepsOffItsOwnText: wherever a label stands about its point, its leader ends outside its letters.
func TestLeaderKeepsOffItsOwnText(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		w := placing{
			Label: Label{Clear: rapid.Float64Range(0, 4).Draw(t, "clear"), End: ArrowEnd, Lines: []string{rapid.StringMatching(`[a-z ]{1,40}`).Draw(t, "text"), "x"}},
			at:    r2.Point{X: 100, Y: 100},
		}
		w.measure()
		away := func(name string) float64 { return rapid.Float64Range(-60, 60).Draw(t, name) }
		block := w.block(w.at.Add(r2.Point{X: away("x"), Y: away("y")}))
		if block.ClampPoint(w.at).Sub(w.at).Norm() < w.Clear+1 {
			t.Skip("the label covers what it names, and is never put there")
		}
		from, to, _ := w.leader(block)
		if rectBox(block).crosses(from, to) {
			t.Fatalf("leader from %v to %v crosses its text %v", from, to, block)
		}
	})
}

// TestOptionalLabelIsLeftOut where there is room only far off, and an obligatory one goes there.
func TestOptionalLabelIsLeftOut(t *testing.T) {
	for _, optional := range [2]bool{false, true} {
		s := New(A4, Title{Title: "Labels"})
		at := r2.Point{X: 110, Y: 120}
		s.Reserve(r2.RectFromCenterSize(at, r2.Point{X: 60, Y: 60}))
		s.Label(Label{At: at, End: ArrowEnd, Optional: optional, Lines: []string{"bracket"}})
		leftOut := s.Settle()
		if optional != (len(leftOut) == 1 && leftOut[0] == "bracket") || optional == (len(s.Texts()) > 0 && says(s, "bracket")) {
			t.Errorf("optional %t: left out %q of %v", optional, leftOut, s.Texts())
		}
		if len(s.Unplaced()) > 0 {
			t.Errorf("optional %t: no room for %q", optional, s.Unplaced())
		}
	}
}

// TestLabelTakesTheFreePoint of those that would do as well.
func TestLabelTakesTheFreePoint(t *testing.T) {
	s := New(A4, Title{Title: "Labels"})
	crowded, free := r2.Point{X: 60, Y: 60}, r2.Point{X: 140, Y: 200}
	s.Reserve(r2.RectFromCenterSize(crowded, r2.Point{X: 40, Y: 40}))
	s.Label(Label{At: crowded, Or: []r2.Point{free}, End: ArrowEnd, Lines: []string{"bracket"}})
	for _, b := range s.Texts() {
		if b.Text == "bracket" && b.Bounds().Center().Sub(free).Norm() > 20 {
			t.Errorf("stands at %v, want it near %v", b.Bounds().Center(), free)
		}
	}
	if !says(s, "bracket") {
		t.Error("is not written")
	}
}

// TestLeaderKeepsOffMarks: the text and the leader of a label go round the number and the point of another.
func TestLeaderKeepsOffMarks(t *testing.T) {
	s := New(A4, Title{Title: "Labels"})
	at := r2.Point{X: 100, Y: 120}
	for _, off := range []r2.Point{{X: 7}, {X: 7, Y: -7}, {Y: -7}, {X: 7, Y: 7}} { // all sides that would be taken first
		s.Label(Label{At: at.Add(off), Clear: 0.8, Ring: true, Lines: []string{"1"}})
	}
	marks := s.marked
	s.Label(Label{At: at, End: ArrowEnd, Lines: []string{"bracket"}})
	s.Settle()
	last := s.leaders[len(s.leaders)-1]
	for _, m := range marks {
		if d, _ := planar.ToSegment(m.at, last.a, last.b); d < m.radius {
			t.Errorf("leader from %v to %v runs over the mark at %v", last.a, last.b, m.at)
		}
	}
}

func says(s *Sheet, text string) bool {
	for _, b := range s.Texts() {
		if b.Text == text {
			return true
		}
	}
	return false
}
