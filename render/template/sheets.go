package template

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// largeError says that what stands on a template is larger than the paper.
type largeError struct {
	unit      setup.Unit
	what      string
	paper     sheet.Size
	size      r2.Point // mm
	elsewhere string   // the paper on which it fits, as it is asked for
}

func (e *largeError) Error() string {
	decimals := bit(e.unit == setup.Inch)
	figure := func(mm float64) string { return wording.Fixed(e.unit.FromMM(mm), decimals) }
	hint := "no paper that can be asked for is large enough: mark it out by the figures of the report"
	if e.elsewhere != "" {
		hint = "it fits on --paper " + e.elsewhere
	}
	return fmt.Sprintf("at 1:1 %s takes %s by %s %s, more than %d sheets of %s glued together; %s",
		e.what, figure(e.size.X), figure(e.size.Y), e.unit, mostTiles, e.paper.Name, hint)
}

// fitting names the first paper that has room, as it is asked for: of the sizes that go with the unit; empty where none has.
func fitting(u setup.Unit, fits func(sheet.Size) bool) string {
	sizes := [2]sheet.Size{sheet.A4, sheet.A3}
	if u == setup.Inch {
		sizes = [2]sheet.Size{sheet.Letter, sheet.Tabloid}
	}
	for _, z := range sizes {
		for _, way := range [2]sheet.Size{z, z.Landscape()} {
			if fits(way) {
				return strings.ReplaceAll(strings.ToLower(way.Name), " ", "-")
			}
		}
	}
	return ""
}

// onePiece says on which paper something goes without being cut into tiles; nothing where there is none.
func onePiece(paper string) string {
	if paper == "" {
		return ""
	}
	return " It goes on one sheet with --paper " + paper + "."
}
