package wording

import (
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
)

// Title names a setup on a drawing, with the variant and the settings that it was read with, so that two
// sheets on the bench can be told apart.
func Title(s *setup.Setup) string {
	if s.With == "" {
		return s.Name
	}
	return s.Name + ", " + s.With
}

// Block is the title block of every drawing; desc says what is drawn to whoever cannot see it.
func Block(what, of string, origin sheet.Origin, alarms []string, desc string) sheet.Title {
	return sheet.Title{Title: what, Subtitle: of, Note: Caution, Origin: origin, Alarms: alarms, Desc: desc}
}

// Sheet begins a drawing of a setup, in its unit.
func Sheet(opt sheet.Options, what string, s *setup.Setup, alarms []string, desc string) *sheet.Sheet {
	begun := sheet.New(opt.Paper, Block(what, Title(s), opt.Origin, alarms, desc))
	begun.Inches = s.Unit == setup.Inch
	return begun
}
