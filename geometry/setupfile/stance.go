package setupfile

import (
	"fmt"
	"math"

	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// What hardly any kingpin, wheel or column has (common practice, no source). A right corner that differs a little from a left one within these
// is not doubted.
const (
	farOutward = 5 * s1.Degree // that a kingpin's top leans outboard
	muchToe    = 2 * s1.Degree // of each wheel: twice what is ever wanted
	apart      = 1 * s1.Degree // by which the right corner may be beyond that if the left one is not
)

// stance doubts how a corner's kingpin and wheel stand: a sign, a length taken for degrees, an offset from the wrong place.
func (t *doubter) stance(side setup.Side) {
	c, left := &t.s.Corners[side], &t.s.Corners[setup.Left]
	own := s1.Angle(0)
	if side == setup.Right {
		own = apart
	}
	if v, lean := t.of(side, "kingpin", "inclination"), -c.Kingpin.Inclination; v.given() && lean > farOutward && (side == setup.Left || lean+left.Kingpin.Inclination > 2*apart) {
		v.warn("inclination-sign", "leans the kingpin's top %s outboard; inboard, by up to 15, is usual (common practice); is the sign right? top inboard is positive", degreesOf(lean))
	}
	if v, toe := t.of(side, "wheel", "toe"), c.Wheel.Toe; v.given() && toe.Abs() >= muchToe+own {
		mm := math.Abs(toe.Degrees()) // as it stands in the file
		each := s1.Angle(math.Asin(math.Max(-1, math.Min(1, mm/2/c.Wheel.Tyre.Diameter))))
		v.warn("toe", "is %s for each wheel; under 1 is usual (common practice); is it a length? Tyres whose distances ahead and behind differ by %.4g mm have %.2g degrees each",
			degreesOf(toe), mm, each.Degrees())
	}
	t.halfTrack(side)
}

// degreesOf writes an angle for a doubt.
func degreesOf(a s1.Angle) string { return fmt.Sprintf("%.4g degrees", a.Degrees()) }

// halfTrack doubts an offset that seems measured from the middle of the vehicle: more than that to the kingpin.
func (t *doubter) halfTrack(side setup.Side) {
	v, half := t.of(side, "wheel", "offset"), t.s.Spacing/2
	offset := t.s.Corners[side].Wheel.Offset
	if !v.given() || offset <= half || offset > 0.4*t.s.Spacing*slip {
		return // what is more is doubted as out of proportion
	}
	then := ""
	if from := offset - half; from >= 0.02*t.s.Spacing {
		then = "; from there it would be " + t.d.say(from)
	}
	v.warn("half-track", "puts the tyre %s outboard of the kingpin, farther than the kingpin is from the middle of the kart (%s); is it half the track? It counts from the kingpin centre%s",
		t.d.say(offset), t.d.say(half), then)
}

// rake doubts a column that falls towards the driver.
func (t *doubter) rake() {
	if v := t.value("column", "rake"); v.given() && t.s.Column.Rake < 0 {
		v.warn("rake-sign", "has the column fall %s towards the driver, steering wheel below the foot; it counts up from the horizontal, 20 to 60 is usual (common practice); is the sign right?", degreesOf(-t.s.Column.Rake))
	}
}
