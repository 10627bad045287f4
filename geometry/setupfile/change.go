package setupfile

import (
	"cmp"
	"fmt"

	"locksweep/geometry/setup"
)

// aft is the rule of an x between the axles.
var aft = rule{func(x float64) bool { return x < 0 }, "must be less than 0: behind the kingpins"}

// change reads [change] and makes the changes, once all else is read without a mistake. What a side can have of its
// own stands under right. for the right one.
func (d *decoder) change(t *table, s *setup.Setup) {
	right := t.get("right").sub()
	sides := func(key string) [2]float64 {
		both := t.get(key).lengthOr(0)
		return [2]float64{both, right.get(key).lengthOr(both)}
	}
	tyre := t.get("tyre").tyre("new", "")
	c := setup.Change{
		SwapSpindles:     t.get("swap_spindles").flag(),
		TurnSpindlesOver: t.get("turn_spindles_over").flag(),
		Narrow:           t.get("narrow").lengthOr(0),
		NarrowRear:       t.get("narrow_rear").lengthOr(0),
		Shorten:          t.get("shorten").lengthOr(0),
		ShortenAt:        t.get("shorten_at").lengthOr(0, aft),
		KeepFrame:        t.get("keep_frame").flag(),
		Spacer:           sides("spacer"),
		Tyre:             [2]setup.Tyre{tyre, cmp.Or(right.get("tyre").tyre("new", ""), tyre)},
		RearTyre:         t.get("rear_tyre").tyre("rear", ", with a sleeve over it that of the sleeve"),
		TurnDropArmOver:  t.get("turn_drop_arm_over").flag(),
		LengthenDropArm:  sides("lengthen_drop_arm"),
		OneHole:          t.get("one_hole").flag(),
	}
	right.done()
	t.done()
	if len(d.errs) > 0 || d.broken { // a setup with gaps is not to be changed
		return
	}
	if c != (setup.Change{}) {
		s.Before, s.Made = s.Clone(), c
	}
	for _, refused := range c.Apply(s) {
		at := t.get(refused.Key)
		if own := right.get(refused.Key); refused.Side == setup.Right && own.given() {
			at = own
		}
		at.fail("%s", d.refusal(&refused, s.OnePin()))
		if last := len(d.errs) - 1; refused.Why == setup.NothingLeft {
			d.errs[last].little = map[string]string{"narrow": "kingpin.spacing", "narrow_rear": "vehicle.rear_track", "shorten": "vehicle.wheelbase"}[refused.Key]
		}
	}
}

func (d *decoder) refusal(r *setup.Refusal, onePin bool) string {
	switch r.Why {
	case setup.NothingLeft:
		return "leaves nothing: " + map[string]string{
			"narrow": "the kingpins are only " + d.say(r.Size) + " apart", "narrow_rear": "the rear tyres are only " + d.say(r.Size) + " apart, centre to centre",
			"shorten": "the wheelbase is only " + d.say(r.Size),
		}[r.Key]
	case setup.BeyondAxles:
		return fmt.Sprintf("puts the cuts at %s and %s, but they have to lie between the kingpins, at 0, and the rear axle, at %s; they need a shorten_at of at least %s",
			d.say(r.Cuts[0]), d.say(r.Cuts[1]), d.say(r.Axle), d.say(r.Size))
	case setup.FrameUncut:
		return fmt.Sprintf("cannot cut the frame: %v", r.Err)
	case setup.NoDropArm:
		return "is of a drop arm, and a rack has none"
	case setup.OneHoleOnly:
		return "is for two tie rods; the drag link has one hole already"
	case setup.PinOntoAxis:
		pin := r.Side.String() + " pin"
		if onePin {
			pin = "pin"
		}
		return fmt.Sprintf("would bring the %s onto the column axis; it is %s from it", pin, d.say(r.Size))
	}
	return "would stand on the column axis, midway between the two pins"
}
