package sweep

import "github.com/golang/geo/s1"

// FirstLimit is Lock with less of the chain: where a positive stop is what comes first, no contacts that come after it
// are looked for, which costs much less. Lock and pose, what comes first, and what the linkage itself sets are the
// same, and so is what Stopping tells.
func (m *Model) FirstLimit(d Direction) Lock {
	lock := Lock{Chain: m.linkageLimits(d), Column: s1.Angle(d.Sign()) * m.Linkage.Most}
	sortLimits(lock.Chain)
	end := lock.Column
	if first := lock.First(); first != nil {
		end = first.Column
	}
	if end != 0 {
		if c, found := m.Scene.FirstContact(end); found {
			lock.Chain = append(lock.Chain, m.touched(&c))
			sortLimits(lock.Chain)
		}
	}
	first := lock.First()
	if first == nil || !m.Positive(first) {
		return m.Lock(d)
	}
	for i := range lock.Chain {
		if lock.Chain[i].Kind.Ends() {
			lock.Chain = lock.Chain[:i+1]
			break
		}
	}
	lock.Column = first.Column
	m.pose(lock.Column, &lock.Pose)
	return lock
}
