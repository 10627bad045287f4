package planar

import (
	"math"
	"math/big"

	"github.com/golang/geo/r2"
)

// Orient returns twice the signed area of the triangle a, b, c, mm²: positive where the three run
// counter-clockwise. The sign is exact, for coordinates that differ by less than 1e40 in size; where
// plain arithmetic cannot be sure of it, it is worked out in long numbers (the bound on the
// error: Shewchuk, Discrete & Computational Geometry 18, 1997; memory).
func Orient(a, b, c r2.Point) float64 {
	left, right := (a.X-c.X)*(b.Y-c.Y), (a.Y-c.Y)*(b.X-c.X)
	det := left - right
	const unsure = 4e-16
	if math.Abs(det) > unsure*(math.Abs(left)+math.Abs(right)) {
		return det
	}
	if left == 0 && right == 0 {
		return 0 // a difference of two numbers is zero only if they are equal
	}
	return exactOrient(a, b, c)
}

func exactOrient(a, b, c r2.Point) float64 {
	sub := func(x, y float64) *big.Float {
		return new(big.Float).SetPrec(512).Sub(new(big.Float).SetFloat64(x), new(big.Float).SetFloat64(y))
	}
	mul := func(x, y *big.Float) *big.Float { return new(big.Float).SetPrec(512).Mul(x, y) }
	left := mul(sub(a.X, c.X), sub(b.Y, c.Y))
	right := mul(sub(a.Y, c.Y), sub(b.X, c.X))
	det, _ := left.Sub(left, right).Float64()
	return det
}
