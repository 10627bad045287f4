package wording

import (
	"fmt"
	"math"
	"strconv"

	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
)

// Group is figures of a comparison under one heading.
type Group struct {
	Heading string
	Figures []Named
}

// Named is a figure of a comparison, by its key, with the words for it.
type Named struct{ Key, Label string }

// StoppedKey is, among the figures of a comparison, what stops the steering in words.
const StoppedKey = "stopped_by"

// Groups says what the figures of a comparison are called, in the order of the table. Labels are at most 18
// letters with their side.
func Groups(u setup.Unit, radius float64) []Group {
	return []Group{
		{"Lock: how far the wheels turn (degrees)", []Named{
			{"lock_inner", "Inner wheel"}, {"lock_outer", "Outer wheel"}, {StoppedKey, "Stopped by"},
		}},
		{"Ackermann: inner wheel from ideal (degrees, + turns in too much)", []Named{
			{"ackermann_error_10", "at 10° mean"}, {"ackermann_error_20", "at 20° mean"}, {"ackermann_error_lock", "at lock"},
			{"ackermann_percent_20", "percent, 20°"},
		}},
		{"At the steering wheel (ratio: wheel per column)", []Named{
			{"turns_lock_to_lock", "Turns, all"}, {"ratio_centre", "Ratio at centre"}, {"ratio_lock", "  at lock"},
			{"least_transmission", "Least leverage (°)"},
		}},
		{"Metal (" + u.String() + ")", []Named{{"least_gap", "Least gap, no stop"}, {"rod_length", "Rod"}}},
		{"On the ground; circle over the front tyres (" + u.String() + ")", []Named{
			{"turning_circle", "Circle"}, {"rise_inner", "Inner rises"}, {"rise_outer", "Outer rises"},
			{"width", "Width"}, {"width_lock", "Width, lock"}, {"length", "Length"},
			{"space_left_width", "Room in width"}, {"space_left_length", "Room in length"},
			{"width_narrowest", "Narrowest"}, {"narrowest_column", "at column (°)"}, {"space_left_narrowest", "Room so"},
		}},
		{"Slide held on a path of " + Length(u, radius) + " radius (degrees of the body)", []Named{
			{"slide_held_inside", "Inside wheel"}, {"slide_held_outside", "Outside wheel"},
		}},
		{"Held so: wheels splay beyond rolling free (degrees, - pinch)", []Named{
			{"slide_apart_0", "Slide of 0°"}, {"slide_apart_15", "Slide of 15°"}, {"slide_apart_30", "Slide of 30°"}, {"slide_apart_45", "Slide of 45°"},
		}},
	}
}

// Compared returns a figure of a comparison as a bare figure, short enough for a narrow column: lengths of a
// metre and more without decimals.
func Compared(u setup.Unit, k compare.Kind, v float64) string {
	switch {
	case math.IsInf(v, 1):
		return "far"
	case k == compare.Angle:
		return Degrees(s1.Angle(v))
	case k == compare.Length:
		return shortLength(u, v, v)
	case k == compare.Percent:
		return Fixed(v, 0)
	}
	return Fixed(v, 2)
}

// ComparedBy returns by how much a figure is more than another, signed, with the decimals that the figure
// itself has.
func ComparedBy(u setup.Unit, k compare.Kind, v, by float64) string {
	if k == compare.Length {
		return Signed(shortLength(u, v, by))
	}
	return Signed(Compared(u, k, by))
}

// shortLength returns a length with the decimals that another one needs, both in mm.
func shortLength(u setup.Unit, like, mm float64) string {
	size, decimals := math.Abs(u.FromMM(like)), 1
	if u == setup.Inch {
		decimals = 3
	}
	for ; size >= 1000 && decimals > 0 || size >= 100 && decimals > 1; size /= 10 {
		decimals--
	}
	return Fixed(u.FromMM(mm), decimals)
}

// mostDifferences is how many measures are listed of a setup that differs from another; of one that is
// another vehicle altogether, the first few.
const (
	mostDifferences = 8
	firstFew        = 4
)

// Differences says in which measures a setup differs from another.
func Differences(u setup.Unit, list []compare.Difference) (said []string) {
	for i, d := range list {
		if i == firstFew && len(list) > mostDifferences {
			return append(said, fmt.Sprintf("and %d measures more", len(list)-firstFew))
		}
		said = append(said, d.Key+": "+measure(u, d.Kind, d.From)+" becomes "+measure(u, d.Kind, d.To))
	}
	return said
}

func measure(u setup.Unit, k compare.DifferenceKind, v [3]float64) string {
	plain := func(mm float64) string { return strconv.FormatFloat(u.FromMM(mm)+0, 'g', 6, 64) }
	switch k {
	case compare.OfPoint:
		return "[" + plain(v[0]) + ", " + plain(v[1]) + ", " + plain(v[2]) + "]"
	case compare.OfAngle:
		return strconv.FormatFloat(s1.Angle(v[0]).Degrees()+0, 'g', 4, 64) + "°"
	}
	if v[0] == 0 {
		return "0 or none"
	}
	return plain(v[0])
}
