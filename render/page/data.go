package page

import (
	"math"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// show is what the script of a page gets: frames and their figures, in tenths of a millimetre and as printed.
type show struct {
	Alphabet string    `json:"alphabet"`
	Long     int       `json:"long"`
	Columns  []float64 `json:"columns"` // degrees, by frame
	Said     []string  `json:"said"`    // the column angle in words, by frame
	Start    int       `json:"start"`   // the frame straight ahead
	Films    []reel    `json:"films"`
}

// reel is one setup.
type reel struct {
	First  int               `json:"first"`
	Count  int               `json:"count"`
	Locks  [2]int            `json:"locks"`
	Keys   []int             `json:"keys"`
	Pieces [][]solid         `json:"pieces"`
	Texts  map[string]string `json:"texts"`
	Limits []halt            `json:"limits"`
	Turn   string            `json:"turn"` // stubs, where their axle lines meet the rear axle line, and the circle, by frame
}

// solid is one of a piece's solids: how many corners, and their course over the keys.
type solid struct {
	Corners int    `json:"n"`
	Course  string `json:"d"`
}

// halt is a limit.
type halt struct {
	Frame  int    `json:"frame"`
	Left   bool   `json:"left"`
	Tag    string `json:"tag"`
	Text   string `json:"text"`
	Pieces []int  `json:"pieces,omitempty"` // that touch: indices into the moving pieces, from 0; frame parts are left out
	At     []int  `json:"at,omitempty"`
}

// reel is what the script gets of the setup.
func (f *film) reel(columns []s1.Angle, figures []series) reel {
	out := reel{First: f.first, Count: len(f.poses), Locks: f.locks, Keys: f.keys, Texts: map[string]string{}, Turn: f.turns()}
	for _, m := range f.moves {
		solids := []solid{}
		for _, t := range m.tracks {
			if len(t[0]) > 0 {
				solids = append(solids, solid{len(t[0]), courseOf(t)})
			}
		}
		out.Pieces = append(out.Pieces, solids)
	}
	for i := range figures {
		out.Texts[figures[i].Key] = strings.Join(figures[i].texts, "|")
	}
	for _, d := range sweep.Directions {
		for i, l := range limitsOf(f.r, d) {
			out.Limits = append(out.Limits, f.halt(columns, d, i, &l))
		}
	}
	return out
}

// halt is what the script gets of the i-th limit in a direction.
func (f *film) halt(columns []s1.Angle, d sweep.Direction, i int, l *sweep.Limit) halt {
	h := halt{Frame: frameAt(columns, l.Column), Left: d == sweep.ToLeft, Tag: tag(d, i), Text: wording.Limit(f.r.Model, l)}
	if l.Kind != sweep.Contact {
		return h
	}
	for k, m := range f.moves {
		if m.piece == l.Pair[0] || m.piece == l.Pair[1] {
			h.Pieces = append(h.Pieces, k)
		}
	}
	x, y := onPage(flat(l.Point))
	h.At = []int{x, y}
	return h
}

// farAway is how far off a turn's centre may be to be drawn, mm.
const farAway = 100_000.0

// turns stores by frame what the view of the whole vehicle shows of the turn: for either wheel its stub, x and y, and the x at which
// its axle line meets the rear axle line; then centre, x, and radius of the circle over the front tyres. Nought where there is none.
func (f *film) turns() string {
	values := make([][]int, len(f.poses))
	for i := range f.poses {
		p := &f.poses[i]
		for _, side := range setup.Sides {
			x, y := onPage(flat(p.Wheels[side].Stub))
			values[i] = append(values[i], x, y, shown(axleAtRear(f.r, p, side)))
		}
		c := f.r.Figures(p).Circle
		values[i] = append(values[i], shown(-c.Centre.Y), shown(c.OverFrontTyres/2))
	}
	return course(values)
}

// axleAtRear is how far to the right a wheel's axle line meets the rear axle line, mm; NaN where it does not.
func axleAtRear(r *sweep.Result, p *sweep.Pose, side setup.Side) float64 {
	stub, out := flat(p.Wheels[side].Stub), flat(p.Wheels[side].Leftward)
	t := (-r.Setup.Vehicle.Wheelbase - stub.X) / out.X
	if !p.Turn.Known() || math.IsInf(t, 0) {
		return math.NaN()
	}
	return -(stub.Y + t*out.Y)
}

// shown is a length as it is stored, nought where it has no meaning or is too far off.
func shown(mm float64) int {
	if math.IsNaN(mm) || math.Abs(mm) > farAway {
		return 0
	}
	return tenths(mm)
}
