package planar

import "github.com/golang/geo/r2"

// merge joins triangles of a ring into larger convex polygons, in the order of the triangles.
func merge(ring []r2.Point, triangles []triangle) (pieces [][]r2.Point) {
	m := newMesh(ring, triangles)
	for e := range m.from {
		if t := m.twin[e]; t > e {
			m.heal(e, t)
		}
	}
	seen := make([]bool, len(m.from))
	for e := range m.from {
		if seen[e] || m.gone[e] {
			continue
		}
		var piece []r2.Point
		for f := e; !seen[f]; f = m.next[f] {
			seen[f] = true
			piece = append(piece, ring[m.from[f]])
		}
		pieces = append(pieces, piece)
	}
	return pieces
}

// mesh is polygons by their edges, each from one corner to that of the next edge, counter-clockwise.
type mesh struct {
	ring       []r2.Point
	from       []int
	next, prev []int
	twin       []int // the same edge of the neighbour, run the other way; -1 on the outline
	gone       []bool
}

func newMesh(ring []r2.Point, triangles []triangle) *mesh {
	n := 3 * len(triangles)
	m := &mesh{
		ring: ring, from: make([]int, n), next: make([]int, n), prev: make([]int, n), twin: make([]int, n),
		gone: make([]bool, n),
	}
	edges := make(map[[2]int]int, n)
	for i, t := range triangles {
		for k := range 3 {
			e := 3*i + k
			m.from[e], m.next[e], m.prev[e], m.twin[e] = t[k], 3*i+(k+1)%3, 3*i+(k+2)%3, -1
			edges[[2]int{t[k], t[(k+1)%3]}] = e
			if twin, ok := edges[[2]int{t[(k+1)%3], t[k]}]; ok {
				m.twin[e], m.twin[twin] = twin, e
			}
		}
	}
	return m
}

// heal takes out an edge between two polygons, unless a corner at one of its ends would turn concave.
func (m *mesh) heal(e, t int) {
	if m.bend(m.prev[e], m.next[t]) < 0 || m.bend(m.prev[t], m.next[e]) < 0 {
		return
	}
	m.join(m.prev[e], m.next[t])
	m.join(m.prev[t], m.next[e])
	m.gone[e], m.gone[t] = true, true
}

// bend is how the way along one edge and then another turns: positive to the left.
func (m *mesh) bend(first, second int) float64 {
	return Orient(m.ring[m.from[first]], m.ring[m.from[second]], m.ring[m.from[m.next[second]]])
}

func (m *mesh) join(first, second int) {
	m.next[first], m.prev[second] = second, first
}
