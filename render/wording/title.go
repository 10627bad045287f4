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

// Block is the title block of a drawing of a setup; desc says what is drawn to whoever cannot see it.
func Block(what string, s *setup.Setup, origin sheet.Origin, alarms []string, desc string) sheet.Title {
	return sheet.Title{Title: what, Subtitle: Title(s), Note: Caution, Origin: origin, Alarms: alarms, Desc: desc}
}
