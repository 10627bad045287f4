package report

import (
	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

// cutList lists what is to be cut from the frame, where [change] cuts it.
func (p *page) cutList(s *setup.Setup) {
	if list := wording.CutList(s); len(list) > 0 {
		p.items("The frame's tubes, "+wording.Along, list)
		p.paragraph(wording.CutCaution)
	}
}
