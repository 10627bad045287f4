package report

import (
	"fmt"
	"strings"

	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// Check is the report of a file without mistakes: what was read, and what looks doubtful in the file or is found when
// the vehicle in it is swept. Unfilled are the keys that still have the figures of the file to fill in.
func Check(r *sweep.Result, unfilled []string, opt Options) []byte {
	p := opt.page()
	first, rest := causes(opt.Warnings)
	opt.Warnings = rest
	p.title(r.Setup.Name)
	for _, text := range first {
		p.marked(text)
	}
	p.alarmed(r.Setup, opt, wording.Alarms(r.Model, &r.Locks))
	if len(unfilled) > 0 {
		p.marked("still the invented figures of the file to fill in: " + strings.Join(unfilled, ", ") + "; measure them first, or what follows is of another vehicle")
	}
	p.row("File", "no mistakes in the file"+toLookAt(r, opt, len(first)))
	p.warnings(r, opt.Warnings)
	p.read(r)
	p.assumed(r)
	p.cutList(r.Setup)
	return p.Bytes()
}

// causes parts the warnings of a file: the texts of those from which others may follow, and the rest.
func causes(warnings []setupfile.Warning) (first []string, rest []setupfile.Warning) {
	for _, w := range warnings {
		if w.Cause() {
			first = append(first, w.String())
		} else {
			rest = append(rest, w)
		}
	}
	return first, rest
}

// toLookAt says how much there is to look at and where it stands; first is how many warnings stand above already.
func toLookAt(r *sweep.Result, opt Options, first int) string {
	n, loud := len(LookAt(r, opt.Warnings)), r.Findings != nil && r.Findings[0].Code.Alarm()
	switch {
	case first > 0 && n > 0:
		return "; look first at what stands behind ! above: what is warned of below may come of it"
	case first > 0:
		return "; what is to be looked at stands behind ! above"
	case n > 1:
		return fmt.Sprintf("; %d things to look at below", n)
	case n == 1:
		return "; one thing to look at below"
	case loud:
		return "; what is wrong with the vehicle stands above"
	}
	return "; whether it says what stands in the garage only a tape can tell"
}

// read says what was read.
func (p *page) read(r *sweep.Result) {
	s, u := r.Setup, r.Setup.Unit
	p.row("Lengths in", [2]string{"millimetres", "inches"}[u])
	p.row("Wheelbase", u.Say(s.Vehicle.Wheelbase))
	p.row("Kingpins", u.Say(s.Spacing)+" apart")
	p.row("Linkage", s.Linkage().String())
	p.rods(r)
	holes := len(s.Corners[setup.Left].Arm.Metal.Holes) + len(s.DropArm.Metal.Holes)
	p.row("In the file", fmt.Sprintf("%s, %s, %s", wording.Counted(holes, "hole"), wording.Counted(len(s.AsHung().Parts), "part"), wording.Counted(len(s.Variants), "variant")))
	for _, name := range s.Variants {
		p.row("", "variant "+elide(name, 200))
	}
}

// cutList lists what is to be cut from the frame, where [change] cuts it.
func (p *page) cutList(s *setup.Setup) {
	if list := wording.CutList(s); len(list) > 0 {
		p.items("The frame's tubes, "+wording.Along, list)
		p.paragraph(wording.CutCaution)
	}
}
