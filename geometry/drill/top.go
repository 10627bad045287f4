package drill

import (
	"cmp"
	"container/heap"
	"iter"
	"math"
	"slices"
)

// better orders places of the pool, best first, and equal ones as lessChange does.
func (s *search) better(a, b int) int {
	if c := s.pool[a].rank.compare(&s.pool[b].rank); c != 0 {
		return c
	}
	return s.lessChange(a, b)
}

// lessChange orders places of the pool by how little they change of today's hole, then by their co-ordinates.
func (s *search) lessChange(a, b int) int {
	p, q := &s.pool[a], &s.pool[b]
	return cmp.Or(slices.Compare(p.change[:], q.change[:]), slices.Compare(p.node[:], q.node[:]))
}

// changeOf returns how much a place changes of today's hole, by what lessChange orders: whether there is anything to drill, how far off, in
// tenths of a millimetre, and the ratio, in thousandths.
func (s *search) changeOf(j *judged) [3]float64 {
	home := s.home()
	sp := s.spot(j.node)
	return [3]float64{one(s.existing(&sp) == ""), math.Round(10 * j.node.apart(&home)), math.Round(1000 * math.Abs(j.Ratio-s.now.Ratio))}
}

// top returns up to n possible places of the pool that are free, the best within the slip first. Since no place does better within the slip
// than at the place itself, only those that come to the head of the queue are looked at so closely, and only as long as they may still be
// among the best.
func (s *search) top(n int, free func(i int) bool) (best []int) {
	return s.topBy(n, free, s.better, func(last int) func(*rank) bool {
		r := s.pool[last].rank
		return func(o *rank) bool { return o.compare(&r) > 0 }
	})
}

// topBy is top in another order. Given the last of n places that are known for sure, out tells which ranks are out of the question; it may be
// nil.
func (s *search) topBy(n int, free func(i int) bool, less func(a, b int) int, out func(last int) func(*rank) bool) (best []int) {
	q, sure := queue{less: less}, firsts{n: n, less: less}
	for i := range s.pool {
		if s.pool[i].sure && s.pool[i].possible && sure.may(i) && free(i) {
			sure.note(i)
		}
	}
	q.list = s.those(func(i int, j *judged) bool { return j.possible && sure.may(i) && free(i) })
	heap.Init(&q)
	for len(best) < n && len(q.list) > 0 {
		first := &s.pool[q.list[0]]
		switch {
		case first.sure:
			best = append(best, heap.Pop(&q).(int))
			continue
		case first.glanced:
			s.wholeAhead(&q, nil)
			continue
		}
		var enough func(*rank) bool
		if out != nil && len(sure.list) == n {
			enough = out(sure.list[n-1])
		}
		if s.surely(first, nil, enough); first.sure {
			sure.note(q.list[0])
		}
		heap.Fix(&q, 0)
	}
	return best
}

// firsts is the first n of what is noted, in order.
type firsts struct {
	list []int
	n    int
	less func(a, b int) int
}

// may reports whether one more may be among the first n.
func (f *firsts) may(i int) bool { return len(f.list) < f.n || f.less(i, f.list[f.n-1]) <= 0 }

func (f *firsts) note(i int) {
	at, _ := slices.BinarySearchFunc(f.list, i, f.less)
	if f.list = slices.Insert(f.list, at, i); len(f.list) > f.n {
		f.list = f.list[:f.n]
	}
}

// together is how many places at the head of a queue are judged at the same time.
const together = 4

// wholeAhead judges in full the places at the head of a queue that have only been glanced at. Those that are not wanted leave the queue
// unjudged, and those that turn out impossible or not wanted leave it then. wanted may be nil.
func (s *search) wholeAhead(q *queue, wanted func(*judged) bool) {
	stays := func(i int) bool { return s.pool[i].possible && (wanted == nil || wanted(&s.pool[i])) }
	var ahead []int
	for len(ahead) < together && len(q.list) > 0 && s.pool[q.list[0]].glanced {
		if i := heap.Pop(q).(int); stays(i) {
			ahead = append(ahead, i)
		}
	}
	s.whole(ahead)
	for _, i := range ahead {
		if stays(i) {
			heap.Push(q, i)
		}
	}
}

// inTurn takes the places off a queue in its order and hands out those that are wanted, once they have been looked at within the slip or are out
// of the question. Those that are not wanted, by their bounds or when their turn comes, leave the queue without being looked at.
func (s *search) inTurn(q *queue, wanted, out func(*judged) bool) iter.Seq[int] {
	return func(yield func(int) bool) {
		heap.Init(q)
		for len(q.list) > 0 {
			if s.pool[q.list[0]].glanced {
				s.wholeAhead(q, wanted)
				continue
			}
			i := heap.Pop(q).(int)
			if j := &s.pool[i]; wanted(j) {
				if s.surely(j, nil, func(*rank) bool { return out(j) }); !yield(i) {
					return
				}
			}
		}
	}
}

// queue is a heap of places of the pool.
type queue struct {
	list []int
	less func(a, b int) int
}

func (q *queue) Len() int { return len(q.list) }

func (q *queue) Less(a, b int) bool { return q.less(q.list[a], q.list[b]) < 0 }

func (q *queue) Swap(a, b int) { q.list[a], q.list[b] = q.list[b], q.list[a] }

func (q *queue) Push(x any) { q.list = append(q.list, x.(int)) }

func (q *queue) Pop() any {
	last := q.list[len(q.list)-1]
	q.list = q.list[:len(q.list)-1]
	return last
}
