// Package export puts results into the form that other programs read: one JSON object a question, and CSV. Numbers are
// in full precision, lengths in the setup's unit, angles in degrees, what has no meaning null or an empty cell. The keys
// are those that docs/commands.md fixes. It computes nothing.
package export

import (
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// Source says which setup a result is of, beyond the setup's own name.
type Source struct {
	File     string // by the name that messages have for it
	Variant  string
	Set      []string            // changes from the command line
	Warnings []setupfile.Warning // of the file
}

// headJSON is what the object of a command on one setup opens with. Its keys are fixed.
type headJSON struct {
	Format     string      `json:"format"`
	Setup      string      `json:"setup"`
	Variant    string      `json:"variant,omitempty"`
	Set        []string    `json:"set,omitempty"`
	Changes    []string    `json:"changes,omitempty"` // of a sweep
	Frame      []frameJSON `json:"frame,omitempty"`   // likewise
	LengthUnit string      `json:"length_unit"`
	AngleUnit  string      `json:"angle_unit"`
}

func (s *Source) head(format string, of *setup.Setup) headJSON {
	return headJSON{Format: format, Setup: of.Name, Variant: s.Variant, Set: s.Set, LengthUnit: of.Unit.String(), AngleUnit: "deg"}
}

// doubts is what the file itself gives cause to warn of; never nil.
func (s *Source) doubts() []warningJSON {
	list := []warningJSON{}
	for _, w := range s.Warnings {
		list = append(list, warningJSON{w.Code, w.String()})
	}
	return list
}

// found is what the file gives cause to warn of, and of what is found of the vehicle in it those that are wanted.
func (s *Source) found(r *sweep.Result, wanted func(c sweep.Code) bool) []warningJSON {
	list := s.doubts()
	for i := range r.Findings {
		if f := &r.Findings[i]; wanted(f.Code) {
			list = append(list, warningJSON{string(f.Code), wording.Finding(r, f)})
		}
	}
	return list
}

// whole and first are all that is found, and what a report opens with: alarms, and rods as given that set another toe.
func whole(sweep.Code) bool   { return true }
func first(c sweep.Code) bool { return c.Alarm() || c == sweep.RodLength }

// said is what is warned of where there is no whole sweep: what the file has in it, and the alarms of the vehicle as it
// stands.
func (s *Source) said(m *sweep.Model, locks *[2]sweep.Lock) []warningJSON {
	list := s.doubts()
	for _, f := range m.Alarms(locks) {
		list = append(list, warningJSON{string(f.Code), wording.Alarm(m, &f)})
	}
	return list
}
