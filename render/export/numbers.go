package export

import (
	"math"
	"strconv"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// number is a figure of the machine-readable output: full precision, and null where it has no meaning.
type number float64

func (n number) known() bool { return !math.IsNaN(float64(n)) && !math.IsInf(float64(n), 0) }

// String is the shortest text that reads back as the same number; empty where it has no meaning.
func (n number) String() string {
	if !n.known() {
		return ""
	}
	return strconv.FormatFloat(float64(n)+0, 'g', -1, 64) // + 0 turns -0 into 0
}

// MarshalJSON writes null for what is no number.
func (n number) MarshalJSON() ([]byte, error) {
	if !n.known() {
		return []byte("null"), nil
	}
	return []byte(n.String()), nil
}

// Figure writes a figure in full precision: the shortest text that reads back as the same number; empty where it has no
// meaning.
func Figure(v float64) string { return number(v).String() }

// degrees are an angle's degrees. The way through radians costs a last bit or two: an angle that somebody
// typed comes out as it was typed.
func degrees(a s1.Angle) number {
	d := a.Degrees()
	if typed := math.Round(d*1e6) / 1e6; math.Abs(d-typed) <= 1e-15*math.Abs(d) {
		return number(typed)
	}
	return number(d)
}

// lengths turns millimetres into the unit of the output.
type lengths struct{ unit setup.Unit }

func (l lengths) of(mm float64) number { return number(l.unit.FromMM(mm)) }

func (l lengths) space(p r3.Vector) [3]number { return [3]number{l.of(p.X), l.of(p.Y), l.of(p.Z)} }

// plane returns a point seen from above; nil where it lies nowhere, NaN.
func (l lengths) plane(p r2.Point) *[2]number {
	if math.IsNaN(p.X) || math.IsNaN(p.Y) {
		return nil
	}
	return new(l.point(p))
}

// numbers are figures as they stand in the JSON; never nil.
func numbers(values []float64) []number {
	out := make([]number, len(values))
	for i, v := range values {
		out[i] = number(v)
	}
	return out
}

// bySide is a value for either side, or for either direction of turn.
type bySide[T any] struct {
	Left  T `json:"left"`
	Right T `json:"right"`
}

// each is a value for each: of sides, of directions, or of what is counted like them.
func each[S ~int, T any](of func(s S) T) bySide[T] { return bySide[T]{of(0), of(1)} }

// angles are those of either side, in degrees.
func angles(of [2]s1.Angle) bySide[number] { return bySide[number]{degrees(of[0]), degrees(of[1])} }

// both are lengths of either side, given in mm.
func (l lengths) both(mm [2]float64) bySide[number] { return bySide[number]{l.of(mm[0]), l.of(mm[1])} }

// Rounded is a figure of the display without what a way through radians leaves behind: a millionth is kept.
func Rounded(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }
