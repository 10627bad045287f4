package wording

import (
	"fmt"
	"strings"

	"locksweep/geometry/setup"
)

// frameChanges says what a cut of the frame moved, cut or dropped.
func frameChanges(s *setup.Setup) (said []string) {
	c := s.Frame
	narrowed := func(p *setup.PartCut) setup.Fate {
		if p.Shortened == setup.Lost {
			return setup.Stays // it is gone, however it stood
		}
		return p.Narrowed
	}
	shortened := func(p *setup.PartCut) setup.Fate { return p.Shortened }
	tell := func(of func(p *setup.PartCut) setup.Fate, fate setup.Fate, text string) {
		if names := partsOf(c, of, fate); names != "" {
			said = append(said, text+": "+names)
		}
	}
	way, cut := "inward", "cut through, the strip taken out of the middle"
	if c.Strip.Front < 0 || c.Strip.Rear < 0 {
		way, cut = "sideways", "cut through at the middle, or set apart there"
	}
	tell(narrowed, setup.Cut, cut)
	tell(narrowed, setup.Moves, "moved with their half of the frame, as they are")
	tell(narrowed, setup.Reshaped, "not cut, but to be bent or set anew, since their ends move "+way+" by different amounts")
	tell(narrowed, setup.Remade, "inside the strip and left where they were, to be made or fastened anew")
	at := Figure(s.Unit, c.Length.At)
	if c.Length.Out > 0 {
		tell(shortened, setup.Cut, fmt.Sprintf("cut through at x = %s and %s", at, Length(s.Unit, c.Length.At-c.Length.Out)))
		tell(shortened, setup.Moves, "moved forward by "+Length(s.Unit, c.Length.Out)+", as they are")
		tell(shortened, setup.Lost, "between the cuts and gone")
	} else {
		tell(shortened, setup.Cut, fmt.Sprintf("cut through at x = %s %v, with a piece set in", at, s.Unit))
		tell(shortened, setup.Moves, "moved back by "+Length(s.Unit, -c.Length.Out)+", as they are")
	}
	return append(said, footSaid(s)...)
}

// footSaid says what became of the column.
func footSaid(s *setup.Setup) []string {
	at := Point(s.Unit, s.Column.Foot) + " " + s.Unit.String()
	switch s.Frame.Foot {
	case setup.Moves:
		return []string{"the column went along: its foot is now at " + at}
	case setup.Remade:
		return []string{"the column stands inside the strip; its foot is left at " + at + ", say with column.foot where you put it"}
	case setup.Lost:
		return []string{"the column stood between the cuts; its foot is left at " + at + ", say with column.foot where you put it"}
	}
	return nil
}

// partsOf lists the parts of a fate by name.
func partsOf(c *setup.FrameCut, of func(p *setup.PartCut) setup.Fate, fate setup.Fate) string {
	var names []string
	for i := range c.Parts {
		if of(&c.Parts[i]) == fate {
			names = append(names, setup.Printable(c.Parts[i].Name))
		}
	}
	return strings.Join(names, ", ")
}

// Along says how the lengths of a cut list are taken.
const Along = "along the middle of the tube, from its front end"

// CutCaution stands under every cut list.
const CutCaution = "Measure again on the tube itself before you cut. A frame that breaks at a weld steers no more: let it be welded by somebody who can, and see docs/safety.md."

// CutList says, tube by tube, its length before and after, and where to cut it. It is empty where no frame was cut.
func CutList(s *setup.Setup) (lines []string) {
	if s.Frame == nil {
		return nil
	}
	for i := range s.Frame.Parts {
		p := &s.Frame.Parts[i]
		if p.Tube == nil {
			continue
		}
		name := setup.Printable(p.Name)
		if p.Sides == [2]bool{true, true} {
			name += ", both sides"
		}
		lines = append(lines, name+": "+tubeCut(s.Unit, p))
	}
	return lines
}

// tubeCut says what becomes of one tube.
func tubeCut(u setup.Unit, p *setup.PartCut) string {
	t := p.Tube
	old := TapeLength(u, t.Old)
	switch {
	case p.Shortened == setup.Lost:
		return old + ", between the cuts: it is gone"
	case p.Narrowed == setup.Remade && len(t.Out) == 0:
		return old + ", inside the strip: left where it was, to be made or fastened anew"
	case len(t.Out) == 0 && p.Narrowed != setup.Reshaped:
		return old + ", stays as it is"
	case len(t.Out) == 0:
		return old + ", not cut; to be bent or set anew, and then " + TapeLength(u, t.New) + " along its path"
	}
	text := old + ", becomes " + TapeLength(u, t.New)
	if !t.Fits() {
		text = old + ", cut to " + TapeLength(u, t.Metal()) + " in all"
	}
	for _, o := range t.Out {
		text += "; " + stretch(u, t, o)
	}
	if t.Pieces > 1 {
		text += fmt.Sprintf("; %d pieces are left that do not meet", t.Pieces)
	}
	if !t.Fits() {
		text += "; the pieces have to be bent to meet, and are then to be " + TapeLength(u, t.New) + " along their path" + spare(u, t)
	}
	return text
}

// spare says how the metal that the cuts leave differs from what the bent path takes.
func spare(u setup.Unit, t *setup.TubeCut) string {
	const little = 0.5 // mm, a saw's cut
	switch short := t.New - t.Metal(); {
	case short > little && len(t.Out) == 1 && !t.Out[0].SetIn():
		return fmt.Sprintf(": %s would be missing, so leave %s more at either side of the cut and trim to fit", TapeLength(u, short), TapeLength(u, short/2))
	case short > little:
		return ": " + TapeLength(u, short) + " would be missing, so leave the ends at a cut that much longer and trim to fit"
	case short < -little:
		return ": trim " + TapeLength(u, -short) + " off once they are bent"
	}
	return ""
}

// stretch says what is cut out of a tube, or put into it, at one place.
func stretch(u setup.Unit, t *setup.TubeCut, o setup.Stretch) string {
	end := ""
	if t.Left {
		end = " from its left end"
	}
	from, to := TapeLength(u, o.From), TapeLength(u, o.To)
	const little = 1e-3 // mm
	switch {
	case o.SetIn():
		return "cut at " + from + end + ", and set in " + TapeLength(u, o.Apart)
	case o.From < little:
		return "cut off the first " + to + end
	case t.Old-o.To < little:
		return "cut off all beyond " + from + end
	}
	text := "cut out from " + from + " to " + to + end
	if o.Apart > 0.05 {
		text += ", the ends then miss each other by " + TapeLength(u, o.Apart)
	}
	return text
}
