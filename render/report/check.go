package report

import (
	"fmt"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// Check is the report of a file without mistakes: what was read, and what looks doubtful in the file or is found when
// the vehicle in it is swept.
func Check(r *sweep.Result, opt Options) []byte {
	p := &page{colour: opt.Colour}
	p.head(r.Setup, opt.Variant, opt.Set, wording.Alarms(r.Model, &r.Locks))
	p.row("File", "no mistakes in the file"+toLookAt(r, opt))
	p.warnings(r, opt.Warnings)
	p.read(r)
	p.assumed(r)
	p.cutList(r.Setup)
	return p.Bytes()
}

// toLookAt counts what is to be looked at.
func toLookAt(r *sweep.Result, opt Options) string {
	n, loud := len(LookAt(r, opt.Warnings)), r.Findings != nil && r.Findings[0].Code.Alarm()
	switch {
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
	p.row("In the file", fmt.Sprintf("%s, %s, %s", wording.Counted(holes, "hole"), wording.Counted(len(s.Parts), "part"), wording.Counted(len(s.Variants), "variant")))
	for _, name := range s.Variants {
		p.row("", "variant "+elide(name, 200))
	}
}
