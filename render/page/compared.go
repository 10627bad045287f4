package page

import (
	"math"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

// comparedRow is a figure of the comparison that stands at the head of a page.
type comparedRow struct {
	Name  string
	Cells []comparedCell
}

// comparedCell is such a figure of one setup.
type comparedCell struct {
	Value       string
	Best, Fails bool
}

// headKeys are the figures that a builder compares first; the whole comparison has them all.
var headKeys = []string{
	"lock_inner", "lock_outer", "ackermann_error_20", "ackermann_error_lock", "turning_circle_balanced", "turns_lock_to_lock",
	"leverage_arm", "leverage_drop", "stop_margin", "least_gap",
}

// comparedRows is the table of a comparison, left and right in rows of their own where they differ; figures that no setup has are left
// out. There is none where no setup can be compared.
func comparedRows(c *compare.Comparison, u setup.Unit) (list []comparedRow) {
	if c == nil || c.Reference < 0 {
		return nil
	}
	for _, key := range headKeys {
		row, sides := c.Find(key), []string{", left", ", right"}
		if row.Split == compare.Single || row.Alike(nil) {
			sides = []string{""}
		}
		for side, of := range sides {
			out, known := comparedRow{Name: wording.InUnit(wording.FigureNamed(key).Title, wording.FigureUnit(u, row.Kind)) + of}, false
			for i, v := range row.Values {
				known = known || !math.IsNaN(v[side])
				out.Cells = append(out.Cells, comparedCell{wording.Compared(u, row.Kind, v[side]), row.Best[i][side], row.Fails[i][side]})
			}
			if known {
				list = append(list, out)
			}
		}
	}
	return list
}
