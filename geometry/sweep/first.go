package sweep

// FirstLimit is Lock with less of the chain: where a positive stop is what comes first, no contacts that come after it
// are looked for, which costs much less. Lock and pose, what comes first, and what the linkage itself sets are the
// same, and so is what Stopping tells.
func (m *Model) FirstLimit(d Direction) Lock {
	chain, end := m.ownLimits(d)
	if len(chain) > 0 {
		end = chain[0].Column
	}
	if end != 0 {
		if c, found := m.Scene.FirstContact(end); found {
			chain = append(chain, m.touched(&c))
			sortLimits(chain)
		}
	}
	if len(chain) == 0 || !m.Positive(&chain[0]) {
		return m.Lock(d)
	}
	return m.lockOf(d, chain)
}
