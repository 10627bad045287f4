package template

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/readback"
	"locksweep/fixtures/trial"
	"locksweep/geometry/grind"
	"locksweep/geometry/planar"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

var planned map[string]*grind.Plan

// plans are those of the examples that have metal to grind.
func plans(t *testing.T) map[string]*grind.Plan {
	t.Helper()
	if planned != nil {
		return planned
	}
	list := map[string]*grind.Plan{}
	for _, e := range fixtures.Examples {
		if e.Name == "cyclekart" && !trial.Long() {
			continue
		}
		m, err := sweep.New(example.Read(t, e.Name))
		if err != nil {
			t.Fatal(err)
		}
		p, err := grind.Make(m, grind.Target{Measure: grind.AsFar}, grind.Options{Clearance: math.NaN()})
		if errors.Is(err, grind.ErrNothingMarked) {
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		if len(p.Cuts) > 0 {
			p.Model.Setup.Name = "Setup of " + e.Name
			list[e.Name] = p
		}
	}
	if len(list) < 3 {
		t.Fatalf("only %d plans", len(list))
	}
	planned = list
	return list
}

// TestGroundOutlinesKeepTheirIdentity within the metal that stays, upright or turned: side, face, front, tyre, setup and date. The
// file's name stands beside it on a leader where the metal is too small for it.
func TestGroundOutlinesKeepTheirIdentity(t *testing.T) {
	for i, name := range slices.Sorted(maps.Keys(plans(t))) {
		p := plans(t)[name]
		for _, turned := range []bool{false, true} {
			for k, c := range p.Cuts {
				if !trial.Long() && (i+k)%2 == bit(turned) { // each side upright on one and turned on another
					continue
				}
				g := grinding{p: p, opt: Options{Options: sheet.Options{Origin: sheet.Origin{Source: name + ".toml, 2026-02-03"}}}}
				size := grindNeed(c, turned, grindHead)
				s := sheet.Plain(size.X, size.Y)
				s.Strict = true
				l := laid{c, turned, s.Area()}
				g.outline(s, &l, grindHead)
				ring := ringOf(t, s, sheet.Wide.Width)
				inside := strings.Join(within(s.Texts(), ring), "\n")
				side := p.Model.Scene.Pieces[c.Piece].Side
				for _, want := range []string{[2]string{"LEFT", "RIGHT"}[side], "THIS FACE UP", "FRONT", "TYRE", "Setup of " + name, "2026-02-03"} {
					if !strings.Contains(inside, want) {
						t.Errorf("%s, turned %v: cut out, it does not say %q, only %q", name, turned, want, inside)
					}
				}
				arrow := map[bool][2]string{false: {"← TYRE", "TYRE →"}, true: {"↑ TYRE", "↓ TYRE"}}[turned][side]
				asTurned := map[bool][2]string{false: {"↑ TYRE", "↓ TYRE"}, true: {"TYRE →", "← TYRE"}}[turned][side] // in letters that run up the sheet
				if !strings.Contains(inside, arrow) && !strings.Contains(inside, asTurned) {
					t.Errorf("%s %v, turned %v: the tyre's arrow is not %q in %q", name, side, turned, arrow, inside)
				}
				if all := fmt.Sprint(s.Texts()); !strings.Contains(all, ".toml") || len(s.Unplaced()) > 0 {
					t.Errorf("%s, turned %v: the file is not named, or no room for %q", name, turned, s.Unplaced())
				}
				touching(t, fmt.Sprint(name, " turned ", turned), s)
			}
		}
	}
}

// ringOf finds the largest closed line of a width.
func ringOf(t *testing.T, s *sheet.Sheet, width float64) (ring []r2.Point) {
	t.Helper()
	all, err := readback.Parse(s.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		for _, run := range e.Runs {
			if run.Closed && e.Paint["stroke-width"] == fmt.Sprint(width) && math.Abs(planar.Area(run.Points)) > math.Abs(planar.Area(ring)) {
				ring = run.Points
			}
		}
	}
	return ring
}

// TestGroundOutlineInTiles: an outline too large for the paper in either way is cut into tiles that coincide, the cautions on the
// last sheet.
func TestGroundOutlineInTiles(t *testing.T) {
	plan := *plans(t)["shed-kart"]
	plan.Cuts = slices.Clone(plan.Cuts)
	for i, c := range plan.Cuts {
		larger := *c
		for _, ring := range []*[]r2.Point{&larger.Before, &larger.After} {
			*ring = slices.Clone(*ring)
			for k := range *ring {
				(*ring)[k] = (*ring)[k].Mul(3.2)
			}
		}
		larger.Bites = nil
		plan.Cuts[i] = &larger
	}
	sheets, err := grindSheets(&plan, Options{Options: sheet.Options{Paper: sheet.Letter}})
	if err != nil {
		t.Fatal(err)
	}
	for len(sheets) > 1 {
		n := 0
		for _, b := range sheets[0].Texts() {
			if _, count, ok := strings.Cut(b.Text, ", TILE 1 OF "); ok {
				n, _ = strconv.Atoi(count)
			}
		}
		if n < 2 || n >= len(sheets) {
			t.Fatalf("%d tiles at the head of %d sheets", n, len(sheets))
		}
		glue(t, "shed-kart", sheets[:n])
		for i, s := range sheets[:n] {
			touching(t, fmt.Sprint("tile ", i+1), s)
		}
		sheets = sheets[n:]
	}
	if said := fmt.Sprint(sheets[0].Texts()); !strings.Contains(said, "Before you grind") || !strings.Contains(said, "A stop carries load") {
		t.Errorf("the last sheet does not tell what to heed: %s", said)
	}
}
