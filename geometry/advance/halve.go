package advance

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
