package template

import (
	"fmt"
	"strings"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

// sizes says what is drilled and what it is opened out to.
func (d *drilling) sizes() []string {
	u, hole := d.r.Setup.Unit, d.r.Options.Diameter
	return []string{"pilot Ø " + wording.Drill(u, drill.Pilot(hole, u == setup.Inch)), "ream to Ø " + wording.Drill(u, hole)}
}

// words says what is to be drilled.
func (d *drilling) words() string {
	return fmt.Sprintf("At the heavy crosses: %s. Print at 100 %%, never “fit to page”, and measure both bars, both ways, before you drill.", strings.Join(d.sizes(), ", "))
}

// laying says how the template is laid on the metal and checked.
func (d *drilling) laying() string {
	outlined, holes, drop, arm := true, true, false, false
	for i := range d.pieces {
		m := d.pieces[i].metal
		outlined, holes = outlined && len(m.Outline) > 0, holes && len(m.Holes) > 0
		drop, arm = drop || m.Drop, arm || !m.Drop
	}
	up := map[[2]bool]string{{true, false}: "this face up", {false, true}: "this face to the driver", {true, true}: "as each says which face is seen"}[[2]bool{arm, drop}]
	line := map[[2]bool]string{
		{true, false}: "along the stub axle", {false, true}: "straight down with the column centred",
		{true, true}: "along the stub axle, of a drop arm straight down with the column centred",
	}[[2]bool{arm, drop}]
	lay := "Cut out along the line of the card, lay it on the metal " + up + ", cross on the axis and the long line " + line
	switch {
	case outlined && holes:
		lay = "Cut out along the outline, lay it on the metal " + up + ", and line up outline and old holes: all must fit at once, or something is measured wrong"
	case outlined:
		lay = "Cut out along the outline, lay it on the metal " + up + ", and line up the outline all round"
	case holes:
		lay = "Cut out along the line of the card, lay it on the metal " + up + ", and line up the axis and the old holes"
	}
	return lay + ". Then check the punch mark with callipers against the distances given: they are true on the metal; in a plan of the vehicle they are shorter by the lean."
}

// hung says which spindle a metal is on and how it hangs, where that or the drop arm was hung anew.
func hung(h *setup.Rehung, drop bool, side setup.Side) (said []string) {
	if drop {
		if h.DropArmOver {
			said = append(said, "turned half round on the column")
		}
		return said
	}
	if h.Swapped {
		said = append(said, "on the spindle that came from the "+side.Other().String()+" side")
	}
	if h.SpindlesOver {
		said = append(said, "spindle upside down: this face was below")
	}
	if len(said) == 2 {
		return []string{said[0] + ", upside down"}
	}
	return said
}
