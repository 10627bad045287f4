package drill

import "math"

// Pilot returns the drill for the hole that is to be opened out and reamed, mm: six tenths of the finished diameter to the
// nearest whole millimetre, or sixteenth of an inch (common practice, no source), and never the finished size
// itself.
func Pilot(diameter float64, inches bool) float64 {
	step := 1.0
	if inches {
		step = 25.4 / 16
	}
	pilot := max(step, math.Round(0.6*diameter/step)*step)
	if pilot >= diameter {
		return 0.6 * diameter
	}
	return pilot
}
