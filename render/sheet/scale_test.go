package sheet_test

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"locksweep/fixtures/readback"
	"locksweep/render/sheet"
)

func TestPaperIsTrueMillimetres(t *testing.T) {
	for _, c := range []struct {
		size          sheet.Size
		width, height float64 // ISO 216 and ANSI Y14.1 (8.5 by 11 in): memory
	}{
		{sheet.A4, 210, 297}, {sheet.A4.Landscape(), 297, 210},
		{sheet.Letter, 8.5 * 25.4, 11 * 25.4}, {sheet.Letter.Landscape(), 11 * 25.4, 8.5 * 25.4},
	} {
		data := sheet.New(c.size, sheet.Title{}).Bytes()
		all, err := readback.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		root := all[0].Attr
		if want := fmt.Sprintf("0 0 %g %g", c.width, c.height); root["viewBox"] != want {
			t.Errorf("%s: viewBox %q, want %q", c.size.Name, root["viewBox"], want)
		}
		for side, want := range map[string]float64{"width": c.width, "height": c.height} {
			mm, isMM := strings.CutSuffix(root[side], "mm")
			if got, err := strconv.ParseFloat(mm, 64); err != nil || !isMM || got != want {
				t.Errorf("%s: %s=%q, want %g mm", c.size.Name, side, root[side], want)
			}
		}
		page := fmt.Sprintf("@page{size:%gmm %gmm;margin:0}", c.width, c.height)
		if !bytes.Contains(data, []byte(page)) {
			t.Errorf("%s: no %s", c.size.Name, page)
		}
	}
}

func TestModelLengthsComeOutAtScale(t *testing.T) {
	for _, scale := range []sheet.Scale{1, 0.5, 0.2, 0.1, 0.05} {
		s := sheet.New(sheet.A4, sheet.Title{})
		v := sheet.View{Scale: scale, Origin: pt{X: 110, Y: 140}, Axes: sheet.FromAbove}
		p := s.NewPanel(s.Area(), v)
		p.Line(sheet.Visible, pt{}, pt{X: 80})          // forward: up the sheet
		p.Line(sheet.Visible, pt{}, pt{Y: 60})          // left: to the left of the sheet
		p.Circle(sheet.Visible, sheet.NoFill, pt{}, 50) // a circle stays a circle
		k := float64(scale)
		all := elements(t, s)
		runs := lines(all)
		if !hasLine(runs, pt{X: 110, Y: 140}, pt{X: 110, Y: 140 - 80*k}) {
			t.Errorf("scale %s: 80 mm forward is not %g mm up", scale, 80*k)
		}
		if !hasLine(runs, pt{X: 110, Y: 140}, pt{X: 110 - 60*k, Y: 140}) {
			t.Errorf("scale %s: 60 mm left is not %g mm to the left", scale, 60*k)
		}
		found := false
		for _, e := range all {
			r, err := strconv.ParseFloat(e.Attr["r"], 64)
			found = found || e.Name == "circle" && err == nil && math.Abs(r-50*k) < 0.001
		}
		if !found {
			t.Errorf("scale %s: no circle of %g mm", scale, 50*k)
		}
	}
}

func TestCheckBarsAreTrueBothWays(t *testing.T) {
	s := sheet.New(sheet.A4, sheet.Title{})
	s.CheckBars(pt{X: 25, Y: 250})
	lengths := map[string]bool{}
	for _, r := range lines(elements(t, s)) {
		if len(r) == 2 {
			d := r[1].Sub(r[0])
			lengths[fmt.Sprintf("%.3f %.3f", math.Abs(d.X), math.Abs(d.Y))] = true
		}
	}
	for _, want := range []string{"100.000 0.000", "101.600 0.000", "0.000 100.000", "0.000 101.600"} {
		if !lengths[want] {
			t.Errorf("no bar of %s mm", want)
		}
	}
	checkLegible(t, s)
}

func TestDimensionsSpanWhatTheyMeasure(t *testing.T) {
	a, b := pt{X: 10, Y: 30}, pt{X: 110, Y: -20} // paper at 1:2: (90, 125) and (115, 75)
	v := sheet.View{Scale: 0.5, Origin: pt{X: 105, Y: 130}, Axes: sheet.FromAbove}
	pa, pb := v.At(a), v.At(b)
	u := pb.Sub(pa).Normalize()
	left := pt{X: u.Y, Y: -u.X}.Mul(12)
	for _, c := range []struct {
		name   string
		m      sheet.Measure
		off    float64
		qa, qb pt
	}{
		{"above", sheet.Horizontal, 12, pt{X: pa.X, Y: pb.Y - 12}, pt{X: pb.X, Y: pb.Y - 12}},
		{"below", sheet.Horizontal, -12, pt{X: pa.X, Y: pa.Y + 12}, pt{X: pb.X, Y: pa.Y + 12}},
		{"right", sheet.Vertical, 12, pt{X: pb.X + 12, Y: pa.Y}, pt{X: pb.X + 12, Y: pb.Y}},
		{"left", sheet.Vertical, -12, pt{X: pa.X - 12, Y: pa.Y}, pt{X: pa.X - 12, Y: pb.Y}},
		{"aligned, left of a to b", sheet.Aligned, 12, pa.Add(left), pb.Add(left)},
	} {
		s := sheet.New(sheet.A4, sheet.Title{})
		s.NewPanel(s.Area(), v).Dim(c.m, a, b, c.off, "1")
		if !hasLine(lines(elements(t, s)), c.qa, c.qb) {
			t.Errorf("%s: no dimension line from %v to %v", c.name, c.qa, c.qb)
		}
	}
}
