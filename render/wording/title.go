package wording

import "locksweep/geometry/setup"

// Title names a setup on a drawing, with the variant and the settings that it was read with, so that two
// sheets on the bench can be told apart.
func Title(s *setup.Setup) string {
	if s.With == "" {
		return s.Name
	}
	return s.Name + ", " + s.With
}
