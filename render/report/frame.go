package report

import (
	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

// CutList returns what has to be cut of the frame's tubes, empty where nothing of the frame is.
func CutList(s *setup.Setup) []byte {
	p := &page{}
	p.cutList(s)
	return p.Bytes()
}

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
