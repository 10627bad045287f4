package advance

import "math"

// Halve closes in on a place between low and high: past has to be false at low and true at high, either of which may be the greater. It returns
// the last place found at which past is false and the first at which it is true, after so many halvings or as near as numbers get.
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

// Rise returns where a figure rises to nought between low, where it is below, and high, where it is above or cannot be told (+Inf or NaN).
// It goes by false position, in which the end that stays counts for half (Illinois), and by halving while the figure at high cannot be told.
// It ends where the figure is within so much of nought, or as near as numbers get; off is the figure there. at is the last place asked for.
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

// Dip returns where a figure that has one dip between low and high is least, by golden section: to a millionth of the way.
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
