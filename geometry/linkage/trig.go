package linkage

import "math"

// trig1 is a + b·cosφ + c·sinφ.
type trig1 [3]float64

func (t trig1) at(sin, cos float64) float64 { return t[0] + t[1]*cos + t[2]*sin }

func (t trig1) plus(o trig1) trig1 { return trig1{t[0] + o[0], t[1] + o[1], t[2] + o[2]} }

func (t trig1) times(f float64) trig1 { return trig1{t[0] * f, t[1] * f, t[2] * f} }

// squared returns t², as a sum of harmonics.
func (t trig1) squared() trig2 {
	a, b, c := t[0], t[1], t[2]
	return trig2{a*a + (b*b+c*c)/2, 2 * a * b, 2 * a * c, (b*b - c*c) / 2, b * c}
}

// trig2 is a + b·cosφ + c·sinφ + d·cos2φ + e·sin2φ.
type trig2 [5]float64

func (t trig2) plus(o trig2) trig2 {
	for i := range t {
		t[i] += o[i]
	}
	return t
}

func (t trig2) times(f float64) trig2 {
	for i := range t {
		t[i] *= f
	}
	return t
}

// value returns the sum and its derivative at φ.
func (t trig2) value(φ float64) (value, slope float64) {
	sin, cos := math.Sincos(φ)
	sin2, cos2 := 2*sin*cos, cos*cos-sin*sin
	value = t[0] + t[1]*cos + t[2]*sin + t[3]*cos2 + t[4]*sin2
	slope = -t[1]*sin + t[2]*cos + 2*(t[4]*cos2-t[3]*sin2)
	return value, slope
}

// firstZero returns the first place, from angle from in direction dir (±1) and at most span on, at
// which the sum falls to zero. It steps to where the sum could be zero at the soonest, given its value,
// its slope and the greatest curvature that it has anywhere: a root is never stepped over, and at a
// simple root the steps shrink as fast as Newton's.
func (t trig2) firstZero(from, dir, span float64) (at float64, found bool) {
	curvature := math.Hypot(t[1], t[2]) + 4*math.Hypot(t[3], t[4])
	noise := 1e-15 * (math.Abs(t[0]) + curvature)
	travelled := 0.0
	for range maxZeroSteps {
		value, slope := t.value(from + dir*travelled)
		slope *= dir
		if value <= noise {
			return from + dir*travelled, true
		}
		// The positive root of value + slope·s - curvature·s²/2, written so that nothing cancels.
		root := math.Sqrt(slope*slope + 2*curvature*value)
		step := 2 * value / (root - slope)
		if slope > 0 {
			step = (slope + root) / curvature
		}
		if !(step < span-travelled) { // also where the sum is constant
			return 0, false
		}
		travelled += step
		if step < 1e-15 {
			return from + dir*travelled, true
		}
	}
	return from + dir*travelled, true
}

// maxZeroSteps bounds the search. Only a double root needs more than a few dozen steps, and there
// each step takes a fixed share of what is left.
const maxZeroSteps = 1000

// firstReach returns the first place, from angle from in direction dir (±1), at which the sum takes
// the value v; the result is at most a full turn on.
func (t trig1) firstReach(v, from, dir float64) (at float64, found bool) {
	amplitude := math.Hypot(t[1], t[2])
	if amplitude == 0 || math.Abs(v-t[0]) > amplitude {
		return 0, false
	}
	peak, half := math.Atan2(t[2], t[1]), math.Acos((v-t[0])/amplitude)
	travel := math.Min(positiveAngle(dir*(peak+half-from)), positiveAngle(dir*(peak-half-from)))
	return from + dir*travel, true
}

// positiveAngle brings an angle into [0, 2π).
func positiveAngle(a float64) float64 {
	a = math.Mod(a, 2*math.Pi)
	if a < 0 {
		a += 2 * math.Pi
	}
	return a
}
