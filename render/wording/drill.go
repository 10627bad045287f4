package wording

// DrillCautions is what must be heeded before a hole is drilled; edge is the least distance from hole centre
// to edge that was kept, in hole diameters.
func DrillCautions(edge float64) []string {
	return []string{
		"Never drill a forged, cast or hardened part, or one that you cannot name the steel of, without the advice of someone competent. No welding or heating of spindles and arms.",
		"Drill under size and ream to the bolt: a plain shank through the joint, no thread in it; deburr both faces.",
		"Carry the rod end in double shear, or with a washer wide enough to hold it if it breaks.",
		"Hole centre to edge at least " + Fixed(edge, 1) + " hole diameters, as kept here (floor of EN 1993-1-8: 1.2). An old hole that shows a crack condemns the arm.",
		"Make a cardboard arm first, try it lock to lock, and drill last. Both sides must be the same to half a millimetre.",
	}
}
