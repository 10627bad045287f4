package template

import (
	"bytes"
	"fmt"
	"testing"

	"locksweep/geometry/drill"
	"locksweep/render/sheet"
)

// TestTogetherNamesAllItsSheets: sheets to drill by and to cut by are numbered through, in the order of the work, and each says
// which step it is.
func TestTogetherNamesAllItsSheets(t *testing.T) {
	r := search(t, "shed-kart", drill.Arm, drill.Options{NewMetal: true}, "arm.outline=")
	if r.Best[0].Existing != "" {
		t.Fatal("the example leaves the hole where it is")
	}
	plan := plans(t)["shed-kart"]
	for _, c := range []struct {
		first       drill.First
		step        [2]string // of the first and of the last sheet
		what        [2]string
		onlyTheCuts bool
	}{
		{first: drill.HoleFirst, step: [2]string{"Step 1: ", "Step 2: "}, what: [2]string{"Drill", "Grind"}},
		{first: drill.CutFirst, step: [2]string{"Step 1: ", "Step 2: "}, what: [2]string{"Grind", "Drill"}},
		{first: drill.AtOnce, step: [2]string{"At once: ", "At once: "}, what: [2]string{"Drill", "Grind"}},
		{first: drill.HoleFirst, what: [2]string{"Grind", "Grind"}, onlyTheCuts: true},
	} {
		both := drill.Together{Result: own(r), Plan: plan, First: c.first}
		if c.onlyTheCuts {
			both.Best[0].Existing = "old"
		}
		sheets, err := Together(&both, Options{Options: sheet.Options{Paper: sheet.A4, Origin: sheet.Origin{Program: "locksweep"}}, File: "both.svg"})
		if err != nil {
			t.Fatal(err)
		}
		for i, data := range sheets {
			if want := fmt.Sprintf("Sheet %d of %d: both.svg", i+1, len(sheets)); len(sheets) > 1 && !bytes.Contains(data, []byte(want)) {
				t.Errorf("%v: sheet %d does not say %q", c.first, i+1, want)
			}
		}
		for i, data := range [2][]byte{sheets[0], sheets[len(sheets)-1]} {
			if want := "-title\">" + c.step[i] + c.what[i] + " template"; !bytes.Contains(data, []byte(want)) {
				t.Errorf("%v: no %q on sheet %d of 2", c.first, want, i+1)
			}
		}
	}
}
