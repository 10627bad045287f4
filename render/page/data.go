package page

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
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

// alphabet has the digits of stored whole numbers: characters that neither HTML nor JSON has to escape. The middle one is
// nought. The first is no digit: it announces a number of longDigits digits.
const alphabet = "!#$%()*+,-./0123456789:;=?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]^_abcdefghijklmnopqrstuvwxyz{|}~"

const (
	base       = len(alphabet) - 1 // digits
	half       = (base - 1) / 2
	longDigits = 4
)

// encode writes whole numbers with a character for each of at most half either way, and more for the others.
func encode(b *strings.Builder, n int) {
	if n >= -half && n <= half {
		b.WriteByte(alphabet[1+half+n])
		return
	}
	limit := base * base * base * base / 2
	rest := max(-limit, min(limit-1, n)) + limit
	var digits [longDigits]byte
	for i := range digits {
		digits[longDigits-1-i] = alphabet[1+rest%base]
		rest /= base
	}
	b.WriteByte(alphabet[0])
	b.Write(digits[:])
}

// tenths is a length as whole tenths of a millimetre, the unit of what is drawn on the page.
func tenths(mm float64) int { return int(math.Round(10 * mm)) }

// course writes how coordinates run over poses, as seen on the page: after the first pose each is told by how much it
// departs from going on as before. Values are by pose and then by coordinate.
func course(values [][]int) string {
	var b strings.Builder
	for pose := range values {
		for i, v := range values[pose] {
			switch pose {
			case 0:
				encode(&b, v)
			case 1:
				encode(&b, v-values[0][i])
			default:
				encode(&b, v-2*values[pose-1][i]+values[pose-2][i])
			}
		}
	}
	return b.String()
}

// pathOf adds a closed outline to the data of a path, in tenths of a millimetre; what is too small to be seen is left out.
func pathOf(b *strings.Builder, ring []r2.Point) {
	begun, lastX, lastY := false, 0, 0
	for _, p := range ring {
		x, y := onPage(p)
		switch {
		case !begun:
			b.WriteByte('M')
			number(b, x, true)
			number(b, y, false)
			b.WriteByte('l')
		case x == lastX && y == lastY:
			continue
		default:
			number(b, x-lastX, strings.HasSuffix(b.String(), "l"))
			number(b, y-lastY, false)
		}
		begun, lastX, lastY = true, x, y
	}
	if begun {
		if s := b.String(); strings.HasSuffix(s, "l") { // a lone point
			b.WriteString("0 0")
		}
		b.WriteByte('z')
	}
}

// number adds a coordinate with what keeps it apart from the one before.
func number(b *strings.Builder, n int, first bool) {
	if n >= 0 && !first {
		b.WriteByte(' ')
	}
	b.WriteString(strconv.Itoa(n))
}
