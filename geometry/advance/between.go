package advance

import "math"

// Halve closes in on where something comes to be between low, at which it is not yet, and high, at which it is, either of which may be the
// greater: the last place found before it and the first found past it, after so many halvings or as near as numbers get.
func Halve[T ~float64](low, high T, times int, past func(T) bool) (before, after T) {
	for range times {
		mid := (low + high) / 2
		switch {
		case mid == low || mid == high:
			return low, high
		case past(mid):
			high = mid
		default:
			low = mid
		}
	}
	return low, high
}

// Rise returns where a figure that is below nought at low comes to nought on the way to high, where it is above: by false position, in
// which the end that stays counts for half (Illinois), and by halving while it cannot be told at high: infinite, or NaN. It ends
// within so much of nought, or as near as numbers get; off is the figure there. The place is the one that was asked for last.
func Rise[T ~float64](low, high T, below, above, within float64, of func(T) float64) (at T, off float64) {
	told := func(v float64) bool { return v < math.Inf(1) }
	kept := 0 // which end was kept last
	for range 200 {
		at = (low + high) / 2
		if told(above) {
			at = high - T(above*float64(high-low)/(above-below))
		}
		off = of(at)
		switch {
		case !told(off):
			high = at
		case math.Abs(off) < within, at == low, at == high:
			return at, off
		case off < 0:
			if low, below = at, off; kept > 0 {
				above /= 2
			}
			kept = 1
		default:
			if high, above = at, off; kept < 0 {
				below /= 2
			}
			kept = -1
		}
	}
	return at, off
}

// Dip returns where between low and high a figure with one dip there is least, by golden section: to a millionth of the way.
func Dip[T ~float64](low, high T, of func(T) float64) T {
	const ratio = 0.6180339887498949
	a, b := high-ratio*(high-low), low+ratio*(high-low)
	atA, atB := of(a), of(b)
	for range 30 {
		if atA < atB {
			high, b, atB = b, a, atA
			a = high - ratio*(high-low)
			atA = of(a)
		} else {
			low, a, atA = a, b, atB
			b = low + ratio*(high-low)
			atB = of(b)
		}
	}
	return (low + high) / 2
}
