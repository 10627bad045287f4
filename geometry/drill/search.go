package drill

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// tenth is the grid that places are refined to, mm.
const tenth = 0.1

// node is a place as four co-ordinates, as the file gives them: forward and outboard of the left pickup,
// down and left of the left rod's pin, mm.
type node [4]float64

// judged is a node with what came of it.
type judged struct {
	node node
	Figures
	rank     rank
	possible bool // it assembles and nothing touches straight ahead
}

// search knows every place that has been judged.
type search struct {
	r      *Result
	aims   Aims // the result's, with the leverage that can be had
	base   *sweep.Model
	start  Spot
	origin node  // of the grid of tenths
	axes   []int // co-ordinates that may change
	pool   []judged
	known  map[node]int // index in the pool
	chart  chart

	leastLock     s1.Angle // of places in the trade: the lesser of today's and the lock wanted
	leverageAsked bool     // for a figure of its own, that is not lowered where no place attains it
}

func newSearch(r *Result, base *sweep.Model) *search {
	s := &search{r: r, aims: r.Aims, base: base, start: today(base.Setup), known: map[node]int{}}
	pickup, pin := s.start.Pickups[setup.Left], s.start.Pins[setup.Left]
	s.origin = node{pickup.X, pickup.Y, pin.X, pin.Y}
	if s.mirroredPins() {
		s.origin[3] = 0 // so that one hole for both rods is on the grid
	}
	s.axes = [3][]int{Arm: {0, 1}, DropArm: {2, 3}, Both: {0, 1, 2, 3}}[r.On]
	return s
}

func (s *search) mirroredPins() bool {
	left, right := s.start.Pins[setup.Left], s.start.Pins[setup.Right]
	return left.X == right.X && left.Y == -right.Y
}

// home is today's place.
func (s *search) home() node {
	pickup, pin := s.start.Pickups[setup.Left], s.start.Pins[setup.Left]
	return node{pickup.X, pickup.Y, pin.X, pin.Y}
}

// on returns the node of the grid of tenths that lies steps of a size (tenths) from n's nearest.
func (s *search) on(n node, steps [4]int, size int) node {
	for _, a := range s.axes {
		n[a] = s.coordinate(a, int(math.Round((n[a]-s.origin[a])/tenth))+steps[a]*size)
	}
	return n
}

// coordinate is a node's co-ordinate so many tenths from the origin, to a whole millionth so that it reads well.
func (s *search) coordinate(axis, tenths int) float64 {
	return math.Round((s.origin[axis]+float64(tenths)/10)*1e6) / 1e6
}

// spot is where the balls go. What moves the left ones moves the right ones as their mirror image, so
// that sides that differ keep their difference. A ball keeps its height along the axis that its arm turns about.
func (s *search) spot(n node) Spot {
	sp := s.start
	home := s.home()
	df, do, dd, dl := n[0]-home[0], n[1]-home[1], n[2]-home[2], n[3]-home[3]
	for _, side := range setup.Sides {
		p := &sp.Pickups[side]
		if df != 0 || do != 0 {
			axis := setup.FromCorner(side, s.base.Setup.Kingpin(side).Dir)
			p.X, p.Y = p.X+df, p.Y+do
			p.Z -= (axis.X*df + axis.Y*do) / axis.Z
		}
		sp.Pins[side].X += dd
		sp.Pins[side].Y += side.Sign() * dl
	}
	if home[0] != n[0] || home[1] != n[1] {
		sp.Pickups[setup.Left].X, sp.Pickups[setup.Left].Y = n[0], n[1] // not by way of a difference
	}
	sp.Pins[setup.Left].X, sp.Pins[setup.Left].Y = n[2], n[3]
	return sp
}

// allowed tells whether the metal has room for the holes.
func (s *search) allowed(n node) bool { return s.allowedIn(n, false) && s.allowedIn(n, true) }

// allowedIn tells it of the steering arms or of the drop arm alone.
func (s *search) allowedIn(n node, drop bool) bool {
	sp, opt := s.spot(n), &s.r.Options
	for i := range s.r.Metals {
		m := &s.r.Metals[i]
		if m.Drop != drop {
			continue
		}
		balls := m.balls(&sp)
		if !m.allows(balls[0], opt) || !m.allows(balls[1], opt) {
			return false
		}
		drilled := m.ready(m.Plane(balls[0]), opt) != nil && m.ready(m.Plane(balls[1]), opt) != nil
		if apart := balls[0].Sub(balls[1]).Norm(); !drilled && apart > 0 && apart < opt.Web*opt.Diameter-roundingSlack {
			return false
		}
	}
	return true
}

// balls returns where a metal's holes go, as the file gives them; twice the same for a steering arm.
func (m *Metal) balls(sp *Spot) [2]r2.Point {
	if m.Drop {
		return [2]r2.Point{{X: sp.Pins[0].X, Y: sp.Pins[0].Y}, {X: sp.Pins[1].X, Y: sp.Pins[1].Y}}
	}
	p := r2.Point{X: sp.Pickups[m.Side].X, Y: sp.Pickups[m.Side].Y}
	return [2]r2.Point{p, p}
}

// existing returns the names of the holes that are there already, if all are that a place needs.
func (s *search) existing(sp *Spot) (name string) {
	for i := range s.r.Metals {
		m := &s.r.Metals[i]
		for _, at := range m.balls(sp) {
			h := m.ready(m.Plane(at), &s.r.Options)
			if h == nil {
				return ""
			}
			if name == "" {
				name = h.Name
			}
		}
	}
	return name
}

// figures judges one place.
func (s *search) figures(n node) judged {
	j := judged{node: n}
	sp := s.spot(n)
	if m, err := s.base.Refit(sp.Fit(s.base.Setup)); err == nil {
		j.Figures, j.possible = s.aims.figures(m), true
		j.rank = s.aims.rank(&j.Figures)
	}
	if !j.possible {
		for i := range j.rank {
			j.rank[i] = math.Inf(1)
		}
	}
	return j
}

// judge judges the nodes that are new and allowed, on all cores, in their order.
func (s *search) judge(nodes []node) {
	var fresh []node
	for _, n := range nodes {
		if _, known := s.known[n]; !known && s.allowed(n) {
			s.known[n] = len(s.pool) + len(fresh)
			fresh = append(fresh, n)
		}
	}
	s.pool = append(s.pool, each(fresh, s.figures, func(done int) {
		if progress := s.r.Options.Progress; progress != nil {
			progress(len(s.pool) + done)
		}
	})...)
}

// each maps a list on all cores; told is called on the caller's goroutine with how many are done.
func each[A, B any](list []A, do func(A) B, told func(done int)) []B {
	out := make([]B, len(list))
	next, done := make(chan int), make(chan struct{}, len(list))
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(list)) {
		workers.Go(func() {
			for i := range next {
				out[i] = do(list[i])
				done <- struct{}{}
			}
		})
	}
	go func() {
		for i := range list {
			next <- i
		}
		close(next)
	}()
	for i := range list {
		<-done
		told(i + 1)
	}
	workers.Wait()
	return out
}

// better orders nodes of the pool, best first; equal ones by where they lie.
func (s *search) better(a, b int) int {
	p, q := &s.pool[a], &s.pool[b]
	return cmp.Or(p.rank.compare(&q.rank), slices.Compare(p.node[:], q.node[:]))
}

// order returns the pool's possible places, best first.
func (s *search) order() (order []int) {
	for i := range s.pool {
		if s.pool[i].possible {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, s.better)
	return order
}

// apart is the distance between two nodes, mm.
func (n *node) apart(o *node) float64 {
	sum := 0.0
	for i := range n {
		sum += (n[i] - o[i]) * (n[i] - o[i])
	}
	return math.Sqrt(sum)
}
