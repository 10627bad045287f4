package report

import (
	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

// cutList lists what is to be cut from the frame, where [change] cuts it.
func (p *page) cutList(s *setup.Setup) {
	list := wording.CutList(s)
	if len(list) == 0 {
		return
	}
	p.heading("The frame's tubes, " + wording.Along)
	for _, text := range list {
		p.item("", text)
	}
	for _, line := range Wrap(wording.CutCaution, width) {
		p.line("", line)
	}
}
