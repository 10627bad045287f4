package sheet_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"locksweep/fixtures/trial"
	"locksweep/render/sheet"
	"pgregory.net/rapid"
)

// Scales of ISO 5455:1979, table (memory): full size 1:1, reductions 1:2, 1:5, 1:10, 1:20 … 1:10 000,
// enlargements 2:1, 5:1, 10:1, 20:1, 50:1.
func TestScaleIsTheLargestThatFits(t *testing.T) {
	for _, c := range []struct {
		w, h, roomW, roomH float64
		want               string
	}{
		{170, 200, 170, 200, "1:1"},
		{171, 200, 170, 200, "1:2"},
		{340, 400, 170, 200, "1:2"},
		{340, 401, 170, 200, "1:5"},
		{900, 1500, 160, 230, "1:10"},
		{1900, 1500, 160, 230, "1:20"},
		{8000, 3000, 160, 230, "1:50"},
		{8001, 3000, 160, 230, "1:100"},
		{1e6, 10, 160, 230, "1:10000"},
		{10, 10, 160, 230, "1:1"},
	} {
		if got := sheet.FitScale(c.w, c.h, c.roomW, c.roomH).String(); got != c.want {
			t.Errorf("%g × %g in %g × %g: %s, want %s", c.w, c.h, c.roomW, c.roomH, got, c.want)
		}
	}
	if got := sheet.FitScaleUpTo(5, 10, 10, 160, 230).String(); got != "5:1" {
		t.Errorf("small part: %s, want 5:1", got)
	}
}

func TestScaleReadsBack(t *testing.T) {
	for _, text := range []string{"1:1", "1:2", "1:5", "1:10", "1:2000", "2:1", "50:1", "1:4"} {
		s, err := sheet.ParseScale(text)
		if err != nil || s.String() != text {
			t.Errorf("%q reads as %s, %v", text, s, err)
		}
	}
	for _, text := range []string{"", "5", "1:0", "0:1", "-1:5", "1:x", "NaN:1", "1:Inf", "1:1e9", "1:5:2"} {
		if s, err := sheet.ParseScale(text); err == nil {
			t.Errorf("%q is taken for scale %s", text, s)
		}
	}
}

func TestPaperIsFoundByName(t *testing.T) {
	for name, want := range map[string]sheet.Size{
		"A4": sheet.A4, "a4": sheet.A4, " letter ": sheet.Letter,
		"a4-landscape": sheet.A4.Landscape(), "Letter landscape": sheet.Letter.Landscape(),
	} {
		if got, err := sheet.SizeByName(name); err != nil || got != want {
			t.Errorf("%q: %v, %v", name, got, err)
		}
	}
	for _, name := range []string{"", "A5", "landscape", "a4 upside down"} {
		if got, err := sheet.SizeByName(name); err == nil {
			t.Errorf("%q is taken for %v", name, got)
		}
	}
}

// fit shows a model as large as a room lets it.
func fit(room, model r2.Rect, axes sheet.Axes) sheet.View {
	wide, high := axes.X.Mul(model.Size().X), axes.Y.Mul(model.Size().Y)
	return sheet.Centred(room, model, axes, sheet.FitScale(math.Abs(wide.X+high.X), math.Abs(wide.Y+high.Y), room.Size().X, room.Size().Y))
}

// What is fitted lies wholly inside its room and in its middle, whichever way the axes run.
func TestFittedModelLiesInItsRoom(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		span := rapid.Float64Range(1, 5000)
		lo := pt{X: rapid.Float64Range(-3000, 3000).Draw(t, "x"), Y: rapid.Float64Range(-3000, 3000).Draw(t, "y")}
		model := r2.RectFromPoints(lo, lo.Add(pt{X: span.Draw(t, "w"), Y: span.Draw(t, "h")}))
		room := sheet.Rect(30, 20, rapid.Float64Range(50, 180).Draw(t, "roomW"), rapid.Float64Range(50, 200).Draw(t, "roomH"))
		axes := rapid.SampledFrom([]sheet.Axes{sheet.FromAbove, sheet.Upright}).Draw(t, "axes")
		v := fit(room, model, axes)
		on := r2.RectFromPoints(v.At(model.Lo()), v.At(model.Hi()))
		if !room.ExpandedByMargin(1e-6).Contains(on) {
			t.Fatalf("model lies at %v, room is %v", on, room)
		}
		if d := on.Center().Sub(room.Center()).Norm(); d > 1e-6 {
			t.Fatalf("model is %g mm off the middle", d)
		}
	})
}

func TestSplitFillsTheRectangle(t *testing.T) {
	got := sheet.Split(sheet.Rect(10, 20, 100, 50), 2, 2, 4)
	want := []r2.Rect{sheet.Rect(10, 20, 48, 23), sheet.Rect(62, 20, 48, 23), sheet.Rect(10, 47, 48, 23), sheet.Rect(62, 47, 48, 23)}
	for i := range want {
		if !got[i].ApproxEqual(want[i]) {
			t.Errorf("part %d: %v, want %v", i, got[i], want[i])
		}
	}
}

// TestModelsSizeOnPaper is that of the paper between the corners, however the model lies.
func TestModelsSizeOnPaper(t *testing.T) {
	model := r2.RectFromPoints(r2.Point{X: -100, Y: -20}, r2.Point{X: 30, Y: 5})
	for i, axes := range []sheet.Axes{sheet.FromAbove, sheet.DownColumn, sheet.Upright, sheet.FromAboveOn(true), sheet.FromAbove.Turned()} {
		v := sheet.View{Scale: 1, Axes: axes}
		want := r2.RectFromPoints(v.At(model.Lo()), v.At(model.Hi())).Size()
		if got := axes.Size(model); got != want {
			t.Errorf("axes %d: %v, want %v", i, got, want)
		}
	}
}

// TestWordsTakeTheirPaper: what is said at the head of a room stands in it, above all that is left of it.
func TestWordsTakeTheirPaper(t *testing.T) {
	s := sheet.New(sheet.A4, sheet.Title{Title: "t"})
	room, said := s.Area().ExpandedByMargin(-5), s.Area().ExpandedByMargin(-5)
	s.Say(&room, sheet.Style{}, 2, "words enough to be broken into more than one line on a sheet of this width, whatever letters it is set in, and then some more")
	said.Y.Hi = room.Y.Lo - 2
	if room.X != said.X || room.Y.Hi != s.Area().Y.Hi-5 || said.Y.Length() < 2*sheet.Small {
		t.Errorf("left %v of %v", room, s.Area())
	}
	n := 0
	for _, b := range s.Texts() {
		if said.ExpandedByMargin(0.3).Contains(b.Bounds()) { // an accent reaches above a capital
			n++
		}
	}
	if n < 2 {
		t.Errorf("%d lines stand in %v", n, said)
	}
}

// TestLettersForAWidth are the first of those offered that fit, by their width as it is measured.
func TestLettersForAWidth(t *testing.T) {
	text := "ten letters"
	for _, c := range []struct{ width, want float64 }{{100, sheet.Medium}, {sheet.TextWidth(text, sheet.Small), sheet.Small}, {1, sheet.Fine}} {
		if got := sheet.LettersFor(text, c.width, sheet.Medium, sheet.Small, sheet.Fine); got != c.want {
			t.Errorf("in %.1f mm: %v, want %v", c.width, got, c.want)
		}
	}
}
