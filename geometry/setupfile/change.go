package setupfile

import "locksweep/geometry/setup"

// change reads [change] and makes the changes, once all else is read without a mistake.
func (d *decoder) change(t *table, s *setup.Setup) {
	length := func(v value) float64 { return v.or(v.length(), 0) }
	c := setup.Change{
		SwapSpindles:     t.get("swap_spindles").flag(),
		TurnSpindlesOver: t.get("turn_spindles_over").flag(),
		Narrow:           length(t.get("narrow")),
		Shorten:          length(t.get("shorten")),
		Spacer:           length(t.get("spacer")),
		Tyre:             d.newTyre(t.get("tyre")),
		TurnDropArmOver:  t.get("turn_drop_arm_over").flag(),
		LengthenDropArm:  length(t.get("lengthen_drop_arm")),
		OneHole:          t.get("one_hole").flag(),
	}
	t.done()
	if len(d.errs) > 0 {
		return
	}
	for _, refused := range c.Apply(s) {
		t.get(refused.Key).fail("%s", refused.Why)
	}
}

// newTyre reads the tyre that a change puts on.
func (d *decoder) newTyre(v value) setup.Tyre {
	if !v.given() {
		return setup.Tyre{}
	}
	size := v.sub()
	shoulder := size.get("shoulder")
	tyre := setup.Tyre{
		Diameter: size.need("diameter", "outer diameter of the new tyre").size(),
		Width:    size.need("width", "width of the new tyre").size(),
		Shoulder: shoulder.or(shoulder.length(notNegative), 0),
	}
	size.done()
	return tyre
}
