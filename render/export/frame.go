package export

import "locksweep/geometry/setup"

// frameJSON is what [change] did to one part of the frame.
type frameJSON struct {
	Part      string    `json:"part"`
	Sides     []string  `json:"sides"` // both for one that stands on both, none for a single one
	Narrowed  string    `json:"narrowed"`
	Shortened string    `json:"shortened"`
	Tube      *tubeJSON `json:"tube"`
}

// tubeJSON is the cut list of a tube.
type tubeJSON struct {
	Old number    `json:"length_before"`
	New number    `json:"length_after"`
	Out []outJSON `json:"cuts"`
}

type outJSON struct {
	From  number `json:"from"`
	To    number `json:"to"`
	Apart number `json:"apart"`
}

// fateWords are the words of the machine-readable output for setup.Fate.
var fateWords = [...]string{"stays", "moves", "to be bent", "cut", "to be made anew", "lost"}

// frameOf lists what was done to the frame's parts, nil where it is as in the file.
func frameOf(s *setup.Setup) (list []frameJSON) {
	if s.Frame == nil {
		return nil
	}
	in := lengths{s.Unit}
	list = []frameJSON{}
	for _, p := range s.Frame.Parts {
		one := frameJSON{Part: p.Name, Sides: []string{}, Narrowed: fateWords[p.Narrowed], Shortened: fateWords[p.Shortened]}
		for _, side := range setup.Sides {
			if p.Sides[side] {
				one.Sides = append(one.Sides, side.String())
			}
		}
		if t := p.Tube; t != nil {
			one.Tube = &tubeJSON{in.of(t.Old), in.of(t.New), []outJSON{}}
			for _, o := range t.Out {
				one.Tube.Out = append(one.Tube.Out, outJSON{in.of(o.From), in.of(o.To), in.of(o.Apart)})
			}
		}
		list = append(list, one)
	}
	return list
}
