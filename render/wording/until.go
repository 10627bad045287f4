package wording

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
)

// Until says at which values of a key a figure is as wanted, or how near it comes, and where it turns round or jumps. Wanted
// and the values of the key are in the file's unit, or in degrees.
func Until(u setup.Unit, row *compare.Row, key string, wanted float64, found *compare.Sought) (said []string) {
	is := row.Key + " = " + Bare(wanted)
	switch {
	case len(found.Met) == 1:
		said = append(said, is+" with "+key+" = "+Bare(found.Met[0]))
	case len(found.Met) > 1:
		said = append(said, is+" with "+key+" = "+listed(found.Met))
	case math.IsNaN(found.Nearest):
		said = append(said, row.Key+" is known for no value of "+key+" in the range")
	default:
		by, than := found.Gap, "above"
		if by < 0 {
			by, than = -by, "below"
		}
		said = append(said, is+" is not met in the range: nearest with "+key+" = "+Bare(found.Nearest)+", "+untilBy(u, row.Kind, by)+" "+than+" it")
	}
	if len(found.Turns) > 0 {
		said = append(said, row.Key+" does not rise or fall all along: it turns round near "+key+" = "+listed(found.Turns))
	}
	if len(found.Jumps) > 0 {
		said = append(said, row.Key+" passes "+Bare(wanted)+" in a jump, without meeting it, at "+key+" = "+listed(found.Jumps))
	}
	if 0 < found.Known && found.Known < found.Seen {
		said = append(said, row.Key+" is not known all along the range: for "+strconv.Itoa(found.Known)+" of "+strconv.Itoa(found.Seen)+" values looked at")
	}
	return said
}

// mostListed is how many values stand in a line.
const mostListed = 6

func listed(values []float64) string {
	var texts []string
	for i, v := range values {
		if i == mostListed {
			texts = append(texts, "…")
			break
		}
		texts = append(texts, Bare(v))
	}
	return strings.Join(texts, ", ")
}

// Bare writes a value with six digits at most.
func Bare(v float64) string { return strconv.FormatFloat(v+0, 'g', 6, 64) }

// untilBy says by how much a figure misses what is wanted.
func untilBy(u setup.Unit, k compare.Kind, by float64) string {
	switch k {
	case compare.Angle:
		return Angle(s1.Angle(by))
	case compare.Length, compare.Ground:
		return Length(u, by)
	case compare.Percent:
		return percentFigure(by) + " percent"
	}
	return Fixed(by, 3)
}
