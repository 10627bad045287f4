package grind

// Pad is a stop pad: a block of metal, mm.
type Pad struct {
	Width     float64 // along the edge that it stands on
	Thickness float64 // square to that edge
}

// DefaultPad is a pad as it is cut from flat bar (common practice, no source).
var DefaultPad = Pad{Width: 12, Thickness: 6}

// Stop is what holds the wheels once the metal is off, in one direction.
type Stop struct{}

func (j *job) stops(p *Plan) error { return nil }
