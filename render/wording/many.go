package wording

import (
	"fmt"
	"math"
)

// Many says about how many places there are, to two figures, where that is more than most: a number too large to picture is only
// said to be past a thousand million.
func Many(places float64, most int) string {
	scale := math.Pow(10, math.Floor(math.Log10(max(places, 1)))-1)
	n := math.Round(places/scale) * scale
	switch {
	case !(n < 1e9):
		return "more than a thousand million"
	case n >= 1e6:
		return fmt.Sprintf("about %.3g million", n/1e6)
	case n > float64(most):
		return fmt.Sprintf("about %.0f", n)
	}
	return fmt.Sprintf("more than %d", most)
}
