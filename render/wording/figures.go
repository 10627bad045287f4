// Package wording says results in plain words, the same in the report and on the drawings: lengths and
// angles with the digits a garage can use, limits, findings, locks. It computes and writes nothing.
package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
	"locksweep/render/sheet"
)

// none stands for a figure that has no meaning.
const none = "-"

// Fixed returns a figure with a number of decimals, as sheet.Decimal prints it, never "-0"; "-" where it is no number.
func Fixed(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return none
	}
	text := sheet.Decimal(v, decimals)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// Figure returns a length in mm as a bare figure in the unit: a tenth of a millimetre or a
// thousandth of an inch.
func Figure(u setup.Unit, mm float64) string {
	if u == setup.Inch {
		return Fixed(u.FromMM(mm), 3)
	}
	return Fixed(mm, 1)
}

// Point writes a point in mm as the file would.
func Point(u setup.Unit, p r3.Vector) string {
	return fmt.Sprintf("[%s, %s, %s]", Figure(u, p.X), Figure(u, p.Y), Figure(u, p.Z))
}

// Length is Figure with the unit.
func Length(u setup.Unit, mm float64) string { return Figure(u, mm) + " " + u.String() }

// TapeLength is Length for what is measured with a tape: inches also to the nearest sixteenth.
func TapeLength(u setup.Unit, mm float64) string {
	if u != setup.Inch || math.IsNaN(mm) || math.IsInf(mm, 0) {
		return Length(u, mm)
	}
	return fmt.Sprintf("%s (%s)", Length(u, mm), Sixteenths(mm))
}

// Drill is Length for the diameter of a hole, as drills are sold: inches in 64ths where it is some, 5/16 in, and millimetres to a
// hundredth where a tenth does not say it, 6.35 mm.
func Drill(u setup.Unit, mm float64) string { return DrillFigure(u, mm) + " " + u.String() }

// DrillFigure is Drill without the unit.
func DrillFigure(u setup.Unit, mm float64) string {
	const same = 0.005 // mm
	if u == setup.Inch {
		if n := math.Round(mm / setup.MMPerInch * 64); n > 0 && math.Abs(n*setup.MMPerInch/64-mm) < same {
			return parts(int(n), 64)
		}
		return Figure(u, mm)
	}
	if math.Abs(math.Round(mm*10)/10-mm) > same {
		return Fixed(mm, 2)
	}
	return Figure(u, mm)
}

// Sixteenths returns a length in mm as whole inches and the nearest sixteenth, reduced: 10 1/16.
func Sixteenths(mm float64) string {
	return parts(int(math.Round(mm/setup.MMPerInch*16+math.Copysign(1e-7, mm))), 16)
}

// parts returns n of some parts of an inch as whole inches and a fraction, reduced; of is a power of two.
func parts(n, of int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	whole, part := n/of, n%of
	for part > 0 && part%2 == 0 {
		part, of = part/2, of/2
	}
	switch {
	case part == 0:
		return sign + strconv.Itoa(whole)
	case whole == 0:
		return fmt.Sprintf("%s%d/%d", sign, part, of)
	}
	return fmt.Sprintf("%s%d %d/%d", sign, whole, part, of)
}

// Capital begins a text with a capital.
func Capital(text string) string {
	_, n := utf8.DecodeRuneInString(text)
	return strings.ToUpper(text[:n]) + text[n:]
}

// Signed puts a plus sign before a figure that is positive.
func Signed(figure string) string {
	if figure == none || strings.HasPrefix(figure, "-") || zero(figure) {
		return figure
	}
	return "+" + figure
}

// zero reports whether a figure, with or without its unit, reads as nought.
func zero(figure string) bool {
	digits := strings.TrimRight(figure, "°min ")
	return strings.Trim(digits, "0.") == ""
}

// Degrees returns an angle as a bare figure in degrees, to a tenth.
func Degrees(a s1.Angle) string { return Fixed(a.Degrees(), 1) }

// Angle is Degrees with the sign for degrees.
func Angle(a s1.Angle) string {
	return known(Degrees(a), "°")
}

// known puts a unit behind a figure that has a meaning.
func known(figure, unit string) string {
	if figure == none {
		return none
	}
	return figure + unit
}

// Way says an angle that is positive to the left: "12.0° left", "3.4° right", "0.0°".
func Way(a s1.Angle) string {
	switch text := Angle(a.Abs()); {
	case text == "0.0°" || text == none:
		return text
	case a < 0:
		return text + " right"
	default:
		return text + " left"
	}
}

// Percent returns a percentage of Ackermann without decimals; "-" beyond a thousand either way, where the ideal
// turn-in is so small that it tells nothing.
func Percent(p float64) string {
	return known(percentFigure(p), "%")
}

// leastPercentAt is the mean steer from which on a percentage of Ackermann is printed: below it the ideal difference is a
// few tenths of a degree, and any error of measuring turns the figure over.
const leastPercentAt = 10 * s1.Degree

// PercentAt is Percent at a mean steer, without its sign; "-" where that is too little.
func PercentAt(steer s1.Angle, p float64) string {
	if steer.Abs() < leastPercentAt-1e-9*s1.Degree {
		return none
	}
	return percentFigure(p)
}

// percentFigure is Percent without its sign.
func percentFigure(p float64) string {
	if math.Abs(p) >= 999.5 {
		return none
	}
	return Fixed(p, 0)
}

// Ratio returns a wheel's turn per turn of the column; at a dead point it is without bound.
func Ratio(ratio float64) string {
	if math.Abs(ratio) > 99 {
		return "over 99"
	}
	return Fixed(ratio, 2)
}
