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

// comparedRows is the table of a comparison, a figure of either way apart where these differ; nothing where no setup can be compared.
func comparedRows(c *compare.Comparison, u setup.Unit) (list []comparedRow) {
	if c == nil || c.Reference < 0 {
		return nil
	}
	for _, key := range headKeys {
		row := c.Find(key)
		name := wording.InUnit(wording.FigureNamed(key).Title, wording.FigureUnit(u, row.Kind))
		if row.Split == compare.Single || row.Alike(nil) {
			list = appendCompared(list, row, u, name, 0)
			continue
		}
		for side := range 2 {
			list = appendCompared(list, row, u, name+", "+setup.Side(side).String(), side)
		}
	}
	return list
}

// appendCompared adds a row, unless no setup has the figure.
func appendCompared(list []comparedRow, row *compare.Row, u setup.Unit, name string, side int) []comparedRow {
	out, known := comparedRow{Name: name}, false
	for i, v := range row.Values {
		known = known || !math.IsNaN(v[side])
		out.Cells = append(out.Cells, comparedCell{wording.Compared(u, row.Kind, v[side]), row.Best[i][side], row.Fails[i][side]})
	}
	if !known {
		return list
	}
	return append(list, out)
}
