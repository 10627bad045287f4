package setup

import "strings"

// Stands says what a figure of the file, which is of the vehicle before [change], is of on the vehicle as it stands: the key of that,
// of the other side where spindles were swapped or the drop arm was turned over, and -1 where it counts the other way there, as forward
// does on a spindle that was turned half round. Toe, kingpin and rods belong to the side and stay.
func (r *Rehung) Stands(key string) (now string, sign float64) {
	rest, right := strings.CutPrefix(key, "right.")
	table, figure, _ := strings.Cut(rest, ".")
	on := func(axis string) bool { return strings.HasSuffix(figure, axis) }
	flipped := false
	switch {
	case table == "drop_arm" && r.DropArmOver:
		if of, one := strings.CutPrefix(figure, "left"); one {
			rest = "drop_arm.right" + of
		} else if of, one := strings.CutPrefix(figure, "right"); one {
			rest = "drop_arm.left" + of
		}
		flipped = on("[0]") || on("[1]")
	case table == "arm", table == "drag_link", table == "wheel" && figure != "toe":
		right = right != (r.Swapped && table != "drag_link")
		switch {
		case on("[0]"), figure == "lead":
			flipped = r.Swapped != r.SpindlesOver
		case on("[2]"), figure == "camber":
			flipped = r.SpindlesOver
		}
	}
	if sign = 1; flipped {
		sign = -1
	}
	if right {
		rest = "right." + rest
	}
	return rest, sign
}
