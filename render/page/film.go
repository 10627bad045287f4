package page

import (
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/cores"
	"locksweep/geometry/linkage"
	"locksweep/geometry/plan"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// film is one setup, frame by frame.
type film struct {
	r     *sweep.Result
	first int          // the first frame that the setup gets to
	poses []sweep.Pose // from there on
	keys  []int        // frames, from first, whose outlines are stored; between them corners go straight
	moves []moving     // in the order in which they are drawn, the lowest first
	zero  int          // the frame straight ahead, of all
	locks [2]int       // and those at the locks
}

// moving is a piece that does not stand still.
type moving struct {
	piece  int
	tracks []plan.Track // of its solids, over the keys
}

// Between two stored frames no wheel turns further than keyTurn, and a drop arm no further than keyStep: a corner 350 mm
// from its axis strays from its arc by less than 0.06 mm. Where nothing swings, keyStep does not bound the wheels too, and
// they turn no further than keySlide: a tyre that begins to show its other side would stray too far.
const (
	keyStep  = 2 * s1.Degree
	keyTurn  = 1.5 * s1.Degree
	keySlide = 1.25 * s1.Degree
)

// newFilm poses a setup at the frames that it gets to.
func newFilm(r *sweep.Result, columns []s1.Angle) *film {
	f := &film{r: r, first: -1, zero: frameAt(columns, 0)}
	reach := [2]s1.Angle{reachOf(r, sweep.ToLeft), reachOf(r, sweep.ToRight)}
	for i, c := range columns {
		const slack = 1e-6 * s1.Degree
		if c > reach[sweep.ToLeft]+slack || -c > reach[sweep.ToRight]+slack {
			continue
		}
		if p, ok := r.Pose(c); ok {
			if f.first < 0 {
				f.first = i
			}
			f.poses = append(f.poses, p)
		}
	}
	for _, d := range sweep.Directions {
		f.locks[d] = frameAt(columns, r.Locks[d].Column)
	}
	f.chooseKeys(columns)
	f.follow()
	return f
}

// chooseKeys picks the frames that are stored: straight ahead and every limit among them.
func (f *film) chooseKeys(columns []s1.Angle) {
	must := map[int]bool{f.zero - f.first: true, len(f.poses) - 1: true}
	for _, d := range sweep.Directions {
		must[f.locks[d]-f.first] = true
		for _, l := range limitsOf(f.r, d) {
			must[frameAt(columns, l.Column)-f.first] = true
		}
	}
	most := keyTurn
	if !f.swings() {
		most = keySlide
	}
	f.keys = []int{0}
	for i := 1; i < len(f.poses); i++ {
		last, next := &f.poses[f.keys[len(f.keys)-1]], &f.poses[min(i+1, len(f.poses)-1)]
		if must[i] || f.swings() && (next.Column-last.Column).Abs() > keyStep+1e-9 || turned(last, next) > most {
			f.keys = append(f.keys, i)
		}
	}
}

// swings reports whether what drives the rods turns with the column, and does not slide as a rack.
func (f *film) swings() bool { return !f.r.Linkage.Slides(linkage.Input) }

// turned is how far the wheel that turns further does so between two poses.
func turned(a, b *sweep.Pose) (most s1.Angle) {
	for side := range a.Wheels {
		most = max(most, (a.Wheels[side].Steer - b.Wheels[side].Steer).Abs())
	}
	return most
}

// follow takes the outlines of all that moves.
func (f *film) follow() {
	poses := make([]linkage.Pose, len(f.keys))
	for k, i := range f.keys {
		poses[k] = f.poses[i].Pose
	}
	for i := range f.r.Scene.Pieces {
		if f.r.Scene.Pieces[i].Body != linkage.Frame {
			f.moves = append(f.moves, moving{piece: i})
		}
	}
	cores.Each(len(f.moves), func(i int) { f.moves[i].tracks = plan.Follow(f.r.Scene, f.moves[i].piece, poses) }, nil)
	high := func(m moving) float64 { return highest(f.r.Scene, m.piece, &f.r.Straight.Pose) }
	slices.SortStableFunc(f.moves, func(a, b moving) int {
		switch ha, hb := high(a), high(b); {
		case ha < hb-1e-6:
			return -1
		case ha > hb+1e-6:
			return 1
		}
		return 0
	})
}

// highest is how high a piece reaches at a pose, mm.
func highest(sc *clearance.Scene, piece int, p *linkage.Pose) float64 {
	s := &sc.Pieces[piece]
	m, most := sc.Motion(s.Body, p), math.Inf(-1)
	for i := range s.Solids {
		_, high := s.Solids[i].Heights(m)
		most = max(most, high)
	}
	return most
}

// onPage turns a place on the ground, in vehicle axes, mm, to the page's axes: to the right and down, tenths of a millimetre.
func onPage(p r2.Point) (x, y int) { return tenths(-p.Y), tenths(-p.X) }

func flat(v r3.Vector) r2.Point { return r2.Point{X: v.X, Y: v.Y} }

// courseOf stores a track.
func courseOf(t plan.Track) string {
	values := make([][]int, len(t))
	for k := range t {
		for _, p := range t[k] {
			x, y := onPage(p)
			values[k] = append(values[k], x, y)
		}
	}
	return course(values)
}

// path is the outline of a moving piece at a key, as the data of a path.
func (m *moving) path(key int) string {
	var b strings.Builder
	for _, t := range m.tracks {
		pathOf(&b, t[key])
	}
	return b.String()
}

// gaps returns, by pose, the least gap of the pairs that come near within the lock, mm, and which pair that is: an
// index into r.Near, -1 for none.
func (f *film) gaps() (gaps []float64, pairs []int) {
	gaps, pairs = make([]float64, len(f.poses)), make([]int, len(f.poses))
	cores.Each(len(f.poses), func(i int) {
		gaps[i], pairs[i] = f.r.NearLimit(), -1
		for k := range f.r.Near {
			if gap, _, _ := f.r.Scene.Gap(f.r.Near[k].Pair, &f.poses[i].Pose); gap < gaps[i] {
				gaps[i], pairs[i] = gap, k
			}
		}
	}, nil)
	return gaps, pairs
}

// kind is how a piece is drawn.
func kind(p *clearance.Piece) string {
	switch {
	case p.Rubber():
		return "tyre"
	case p.Assumed:
		return "assumed"
	case p.Body == linkage.Frame:
		return "frame"
	case p.Body.IsRod() && p.Part == nil:
		return "rod"
	}
	return "metal"
}

// tag numbers a limit as the drawings do: L1, L2, … turning left.
func tag(d sweep.Direction, i int) string {
	return [2]string{"L", "R"}[d] + wording.Fixed(float64(i+1), 0)
}

// The frames of a page stand half a degree of column apart, and coarser only where that would make more than mostFrames.
const (
	frameStep  = 0.5 * s1.Degree
	mostFrames = 600
)

// pastLock is how far the drawing goes on past a lock at least, where the linkage gets there.
const pastLock = 10 * s1.Degree

// mostLimits is how many limits each way are told and can be gone to; the machine-readable output holds all.
const mostLimits = 6

// timeline returns the column angles of the frames, from furthest left to furthest right: whole steps, straight ahead, and
// every limit of every setup, met exactly.
func timeline(results []*sweep.Result) []s1.Angle {
	far := [2]s1.Angle{}
	var exact []s1.Angle
	for _, r := range results {
		for _, d := range sweep.Directions {
			reach := reachOf(r, d)
			far[d] = max(far[d], reach)
			for _, l := range limitsOf(r, d) {
				if l.Column.Abs() <= reach {
					exact = append(exact, l.Column)
				}
			}
			exact = append(exact, r.Locks[d].Column)
		}
	}
	step := frameStep
	for (far[0]+far[1])/step > mostFrames {
		step *= 2
	}
	columns := append(exact, 0)
	for k := -math.Floor(float64(far[sweep.ToRight] / step)); k <= float64(far[sweep.ToLeft]/step); k++ {
		columns = append(columns, s1.Angle(k)*step)
	}
	slices.SortFunc(columns, func(a, b s1.Angle) int {
		if a > b {
			return -1
		}
		return 1
	})
	const same = 1e-6 * s1.Degree
	return slices.CompactFunc(columns, func(a, b s1.Angle) bool { return (a - b).Abs() < same })
}

// reachOf returns how far the drawing follows a setup in a direction, as an angle without sign: to the last limit that is
// told, and at least pastLock past the lock, but no further than the linkage gets.
func reachOf(r *sweep.Result, d sweep.Direction) s1.Angle {
	reach := r.Locks[d].Column.Abs() + pastLock
	for _, l := range limitsOf(r, d) {
		reach = max(reach, l.Column.Abs())
	}
	reach = min(reach, r.Linkage.Most)
	for reach > r.Locks[d].Column.Abs() {
		if assembles(r, d, reach) {
			return reach
		}
		reach -= frameStep
	}
	return r.Locks[d].Column.Abs()
}

// assembles reports whether the linkage gets all the way from the lock to a column angle: beyond a dead point it may come
// together again, on another branch than the vehicle's.
func assembles(r *sweep.Result, d sweep.Direction, reach s1.Angle) bool {
	for rod := range r.Linkage.Rods {
		if dead, found := r.Linkage.DeadPoint(rod, d.Sign()); found && dead.Abs() < reach {
			return false
		}
	}
	_, ok := r.Pose(s1.Angle(d.Sign()) * reach)
	return ok
}

// limitsOf returns the limits of a lock that are told.
func limitsOf(r *sweep.Result, d sweep.Direction) []sweep.Limit {
	chain := r.Locks[d].Chain
	return chain[:min(len(chain), mostLimits)]
}

// frameAt returns the frame that stands at a column angle, or nearest to it.
func frameAt(columns []s1.Angle, column s1.Angle) int {
	best := 0
	for i, c := range columns {
		if (c - column).Abs() < (columns[best] - column).Abs() {
			best = i
		}
	}
	return best
}
