package wording

import (
	"strings"

	"locksweep/geometry/setup"
	"locksweep/render/sheet"
)

// Title names a setup on a drawing, with what it was read with, so that two sheets on the bench can be told apart.
func Title(s *setup.Setup) string {
	if with := With(s); with != "" {
		return s.Name + ", " + with
	}
	return s.Name
}

// With says which of a file's setups this is: the variant and the settings that it was read with, or that it is the file as it
// stands where that has variants; empty where there is only one.
func With(s *setup.Setup) string {
	if s.With == "" && len(s.Variants) > 0 {
		return "file as it stands"
	}
	return s.With
}

// Without says which variants a file has that were not asked for.
func Without(variants []string) string {
	noun := "variants"
	if len(variants) == 1 {
		noun = "variant"
	}
	return "without the " + noun + ` "` + strings.Join(variants, `", "`) + `"`
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
