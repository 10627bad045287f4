package wording

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// Group is figures of a comparison under one heading.
type Group struct {
	Heading string
	Figures []Named
}

// Named is a figure of a comparison, by its key, with the words for it: beside the others of its group, over a
// narrow column, and by itself.
type Named struct{ Key, Label, Brief, Title string }

// StoppedKey is, among the figures of a comparison, what stops the steering in words.
const StoppedKey = "stopped_by"

// Groups says what the figures of a comparison are called, in the order of the table. Labels are at most 18
// letters with their side.
func Groups(u setup.Unit, path road.Slide) []Group {
	return []Group{
		{"Lock: how far the wheels turn (degrees)", []Named{
			{"lock_inner", "Inner wheel", "inner lock", "Lock, inner wheel"},
			{"lock_outer", "Outer wheel", "outer lock", "Lock, outer wheel"},
			{StoppedKey, "Stopped by", "", ""},
		}},
		{"Ackermann: inner wheel from ideal (degrees, + turns in too much)", []Named{
			{"ackermann_error_10", "at 10° mean", "error at 10°", "Error at 10° mean"},
			{"ackermann_error_20", "at 20° mean", "error at 20°", "Error at 20° mean"},
			{"ackermann_error_lock", "at lock", "error at lock", "Error at lock"},
			{"ackermann_percent_20", "percent, 20°", "% at 20°", "Ackermann % at 20°"},
		}},
		{"At the steering wheel (ratio: wheel per steering wheel; margin in degrees)", []Named{
			{"turns_lock_to_lock", "Turns, all", "turns", "Turns lock to lock"},
			{"ratio_centre", "Ratio at centre", "ratio centre", "Ratio at centre"},
			{"ratio_lock", "  at lock", "ratio lock", "Ratio at lock"},
			{"rim_force", "Rim, parked (N)", "rim force", "Pull at the rim, parked"},
			{"stop_margin", "Stop margin", "stop margin", "Stop before the end, wheel"},
		}},
		{"Least leverage (degrees; little at an arm may jam, at the drop snap over)", []Named{
			{"leverage_arm", "Steering arms", "least, arm", "Least leverage, arm"},
			{"leverage_drop", "Drop arm or rack", "least, drop", "Least leverage, drop"},
			{"least_transmission", "Lesser of both", "least lever", "Lesser leverage"},
		}},
		{"Metal (" + u.String() + ")", []Named{
			{"least_gap", "Least gap, no stop", "least gap", "Least gap"},
			{"rod_length", "Rod", "rod", "Tie rod"},
		}},
		{"On the ground; sizes over the tyres (" + u.String() + ")", []Named{
			{"turning_circle_balanced", "Circle", "circle", "Turning circle"},
			{"turning_circle", "  outer wheel", "outer circle", "Turning circle, by outer"},
			{"rise_inner", "Inner rises", "inner rises", "Inner corner rises"},
			{"rise_outer", "Outer rises", "outer rises", "Outer corner rises"},
			{"width", "Width", "width", "Width straight ahead"},
			{"width_lock", "Width, lock", "width lock", "Width at lock"},
			{"length", "Length", "length", "Length"},
			{"space_left_width", "Room in width", "room width", "Room left in width"},
			{"space_left_length", "Room in length", "room length", "Room left in length"},
			{"width_narrowest", "Narrowest", "least width", "Least width"},
			{"narrowest_column", "wheel at (°)", "least at", "Narrowest, wheel at"},
			{"space_left_narrowest", "Room so", "room so", "Room at narrowest"},
		}},
		{"Sliding: lock against the turn (" + FrontWheels(path) + ")", []Named{
			{"countersteer_inside", "Inside wheel", "counter in", "Countersteer, inside"},
			{"countersteer_outside", "Outside wheel", "counter out", "Countersteer, outside"},
			{"countersteer_leverage_arm", "Lever, arm", "lever arm", "Leverage at arm, lock"},
			{"countersteer_leverage_drop", "Lever, drop", "lever drop", "Leverage at drop, lock"},
			{"countersteer_to_over_centre", "To over c.", "to over c.", "Lock to over centre"},
			{"countersteer_gap", "Least gap", "lock gap", "Least gap at lock"},
			{"countersteer_camber_outside", "Camber out", "camber out", "Camber at lock, outside"},
			{"countersteer_splay", "Open ahead", "lock splay", "Splay at lock"},
			{"countersteer_trail_outside", "Trail out", "trail out", "Trail at lock, outside"},
		}},
		{"Slide at that lock, on " + u.Say(path.Radius) + " radius (degrees of the body)", []Named{
			{"slide_held_inside", "Inside wheel", "slide in", "Slide at lock, inside"},
			{"slide_held_outside", "Outside wheel", "slide out", "Slide at lock, outside"},
		}},
		{"Held so: splay (open ahead) beyond rolling free, - pinch (closed); degrees", []Named{
			{"slide_apart_0", "Slide of 0°", "apart at 0°", "Splay, no slide"},
			{"slide_apart_15", "Slide of 15°", "apart at 15°", "Splay, slide 15°"},
			{"slide_apart_30", "Slide of 30°", "apart at 30°", "Splay, slide 30°"},
			{"slide_apart_45", "Slide of 45°", "apart at 45°", "Splay, slide 45°"},
		}},
	}
}

// FigureNamed returns the words for a figure of a comparison.
func FigureNamed(key string) Named {
	for _, g := range Groups(setup.MM, road.Slide{}) {
		for _, n := range g.Figures {
			if n.Key == key {
				return n
			}
		}
	}
	return Named{Key: key, Label: key, Brief: key, Title: key}
}

// Letter names the i-th setup of a comparison: A to Z, then 27 and so on.
func Letter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return strconv.Itoa(i + 1)
}

// mostNamed is how many setups an alarm names.
const mostNamed = 4

// ComparedAlarms says the alarms of all setups of a comparison, each once behind the names of those that it holds for. Of one that reads
// otherwise for each of them it only says what it is about.
func ComparedAlarms(c *compare.Comparison, name func(i int) string) (lines []string) {
	for _, a := range alarmsOf(c) {
		lines = append(lines, Listed(a.of, name)+": "+a.text)
	}
	return lines
}

// CountedAlarms says in one line of how many setups of a comparison each alarm holds; nil where there is none.
func CountedAlarms(c *compare.Comparison) []string {
	var heads []string
	for _, a := range alarmsOf(c) {
		heads = append(heads, fmt.Sprintf("%d of %d: %s", len(a.of), len(c.Entries), a.head))
	}
	if heads == nil {
		return nil
	}
	return []string{strings.Join(heads, ", ") + "; the table of compare says which"}
}

// comparedAlarm is an alarm of some setups of a comparison.
type comparedAlarm struct {
	text, head string
	of         []int
}

// alarmsOf returns the alarms of all setups of a comparison, those about the same in one.
func alarmsOf(c *compare.Comparison) (found []comparedAlarm) {
	for i := range c.Entries {
		r := c.Entries[i].Result
		if r == nil {
			continue
		}
		for _, text := range Alarms(r.Model, &r.Locks) {
			head, _, _ := strings.Cut(text, ": ")
			k := slices.IndexFunc(found, func(a comparedAlarm) bool { return a.head == head })
			if k < 0 {
				k = len(found)
				found = append(found, comparedAlarm{text: text, head: head})
			}
			if found[k].text != text {
				found[k].text = head + "; sweep tells more of each"
			}
			found[k].of = append(found[k].of, i)
		}
	}
	return found
}

// SpelledUnit is a unit of length within a sentence.
func SpelledUnit(u setup.Unit) string { return [2]string{setup.MM: "mm", setup.Inch: "inches"}[u] }

// AsInFile says what the figures of a key in the setup file are counted in.
func AsInFile(u setup.Unit, q setup.Quantity) string {
	switch q {
	case setup.OfLength:
		return "in " + SpelledUnit(u)
	case setup.OfAngle:
		return "in degrees"
	case setup.OfDensity:
		return "in kg/m³"
	}
	return "as in the file"
}

// FigureUnit returns the unit of a figure for an axis; empty where it has none.
func FigureUnit(u setup.Unit, k compare.Kind) string {
	return [7]string{compare.Angle: "°", compare.Length: u.String(), compare.Ground: u.String(), compare.Percent: "%", compare.Force: "N"}[k]
}

// InUnit is what a figure is, for a heading, with its unit behind it where it has one.
func InUnit(what, unit string) string {
	if unit == "" {
		return what
	}
	return what + " (" + unit + ")"
}

// FigureValue returns a value of a figure in the unit of FigureUnit.
func FigureValue(u setup.Unit, k compare.Kind, v float64) float64 {
	switch k {
	case compare.Angle:
		return s1.Angle(v).Degrees()
	case compare.Length, compare.Ground:
		return u.FromMM(v)
	}
	return v
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
	case k == compare.Ground:
		return groundFigure(u, v)
	case k == compare.Percent:
		return percentFigure(v)
	case k == compare.Force:
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
func Differences(u setup.Unit, from, to *compare.Entry) (said []string) {
	list := compare.Differ(from.Setup, to.Setup)
	// A part may only have been given another name.
	added := slices.ContainsFunc(list, func(d compare.Difference) bool { return d.New && strings.HasPrefix(d.Key, "part.") })
	for i := range list {
		if i == firstFew && len(list) > mostDifferences {
			return append(said, fmt.Sprintf("and %d measures more", len(list)-firstFew))
		}
		text := difference(u, &list[i])
		if list[i].Later {
			text += ", before the frame is cut as said above"
		}
		part, soft := strings.CutSuffix(list[i].Key, ".soft")
		part, marked := strings.CutSuffix(part, ".stop")
		if (list[i].Gone && !added || soft && list[i].Words[1] == "true" || marked && list[i].Words[1] == "false") && compare.LosesStop(from, to, part) {
			text += ": what stops the wheels is TAKEN AWAY"
		}
		said = append(said, list[i].Key+": "+text)
	}
	return said
}

func difference(u setup.Unit, d *compare.Difference) string {
	stop := strings.HasSuffix(d.Key, "limits.spindle")
	switch {
	case d.Gone:
		return "left out"
	case d.New:
		return "added"
	case d.List:
		return listOfPoints(u, d)
	case stop && d.To[0] == 0:
		return "the declared stop at " + measure(u, d.Quantity, d.From) + " is TAKEN AWAY"
	case stop && d.From[0] == 0:
		return "a stop is declared at " + measure(u, d.Quantity, d.To)
	case d.Quantity == setup.Words:
		return cmp.Or(d.Words[0], "none") + " becomes " + cmp.Or(d.Words[1], "none")
	}
	return measure(u, d.Quantity, d.From) + " becomes " + measure(u, d.Quantity, d.To)
}

// listOfPoints says how an outline or a path differs.
func listOfPoints(u setup.Unit, d *compare.Difference) string {
	before, after := len(d.From)/d.Point, len(d.To)/d.Point
	if n, far, ok := d.Moved(); ok {
		return fmt.Sprintf("%d of %d points moved, by up to %s", n, before, Length(u, far))
	}
	switch {
	case before == 0:
		return fmt.Sprintf("given now, %d points", after)
	case after == 0:
		return fmt.Sprintf("its %d points left out", before)
	}
	return fmt.Sprintf("%d points become %d", before, after)
}

// measure writes a figure or a point of the setup file, in its unit.
func measure(u setup.Unit, q setup.Quantity, v []float64) string {
	said := make([]string, len(v))
	for i, x := range v {
		switch q {
		case setup.OfAngle:
			said[i] = strconv.FormatFloat(s1.Angle(x).Degrees()+0, 'g', 4, 64) + "°"
		case setup.OfLength:
			said[i] = Bare(u.FromMM(x))
		default:
			said[i] = Bare(x)
		}
	}
	switch {
	case len(v) > 1:
		return "[" + strings.Join(said, ", ") + "]"
	case v[0] == 0 && q != setup.OfAngle:
		return "0 or none"
	}
	return said[0]
}
