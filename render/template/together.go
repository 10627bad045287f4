package template

import (
	"fmt"

	"locksweep/geometry/drill"
	"locksweep/render/sheet"
)

// Together draws the template of hole and stop together: what is to be drilled and what is to be cut, in the order in which it
// is to be done. The errors are those of Drill and Grind.
func Together(t *drill.Together, opt Options) (sheets [][]byte, err error) {
	var holes, cuts []*sheet.Sheet
	opt.together = t
	if t.Best[0].Existing == "" || len(t.Plan.Cuts) == 0 {
		if holes, err = drillSheets(t.Result, 0, opt); err != nil {
			return nil, err
		}
	}
	if len(t.Plan.Cuts) > 0 {
		if cuts, err = grindSheets(t.Plan, opt); err != nil {
			return nil, err
		}
	}
	first, then := holes, cuts
	if t.First == drill.CutFirst {
		first, then = cuts, holes
	}
	if len(first) > 0 && len(then) > 0 {
		for i, of := range [2][]*sheet.Sheet{first, then} {
			for _, s := range of {
				step := fmt.Sprintf("Step %d: ", i+1)
				if t.First == drill.AtOnce {
					step = "At once: "
				}
				s.Title.Title = step + s.Title.Title
			}
		}
	}
	return sheet.Closed(append(first, then...), opt.File), nil
}
