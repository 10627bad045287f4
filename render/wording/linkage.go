package wording

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Place says what an end of a rod sits on: "steering arm" of a rod that has a side, "left steering arm" of one
// that has none.
func Place(m *sweep.Model, rod int, end linkage.End) string {
	r := &m.Linkage.Rods[rod]
	body := r.On(end)
	switch {
	case body == linkage.Input:
		return Input(m)
	case r.Sided:
		return "steering arm"
	}
	return body.Side().String() + " steering arm"
}

// On is Place as the machine-readable output has it: "drop arm", "rack", "left arm", "right arm".
func On(m *sweep.Model, rod int, end linkage.End) string {
	if body := m.Linkage.Rods[rod].On(end); body != linkage.Input {
		return body.Side().String() + " arm"
	}
	return Input(m)
}

// Input is what the steering wheel moves: "drop arm", "rack".
func Input(m *sweep.Model) string {
	if m.Linkage.Slides(linkage.Input) {
		return "rack"
	}
	return "drop arm"
}

// Driving is what drives the rods, and a word for it: what the steering wheel moves or, where an arm drives one of them too, the
// driving end.
func Driving(m *sweep.Model) (place, word string) {
	for i := range m.Linkage.Rods {
		if m.Linkage.Rods[i].From != linkage.Input {
			return "driving end", "drive"
		}
	}
	place = Input(m)
	word, _, _ = strings.Cut(place, " ")
	return place, word
}

// RodTables names the tables of the file that the rods stand in: "tie_rod", "drag_link and tie_rod".
func RodTables(m *sweep.Model) string {
	var tables []string
	for i := range m.Linkage.Rods {
		if table, _, _ := strings.Cut(m.Linkage.Rods[i].Key, "."); !slices.Contains(tables, table) {
			tables = append(tables, table)
		}
	}
	return strings.Join(tables, " and ")
}

// Followed says how far the steering wheel is followed each way: "half a turn", "5 turns".
func Followed(m *sweep.Model) string {
	if turns := float64(m.Linkage.Most) / (2 * math.Pi); turns > 1 {
		return fmt.Sprintf("%.0f turns", turns)
	}
	return "half a turn"
}

// deadPoint and overCentre say where a rod has no leverage.
func deadPoint(m *sweep.Model, rod int) string {
	r := &m.Linkage.Rods[rod]
	arm := "its steering arm"
	if !r.Sided {
		arm = "the " + Place(m, rod, linkage.AtArm)
	}
	return fmt.Sprintf("%s in line with %s (dead point)", r.Name(), arm)
}

func overCentre(m *sweep.Model, rod int) string {
	how := "in line with"
	if m.Linkage.Slides(m.Linkage.Rods[rod].From) {
		how = "square to"
	}
	return fmt.Sprintf("%s %s the %s (over centre)", m.Linkage.Rods[rod].Name(), how, Place(m, rod, linkage.AtDropArm))
}

// rodEnd says which rod end binds, and at what tilt; of one that does so straight ahead already how far it is tilted there.
func rodEnd(m *sweep.Model, l *sweep.Limit) string {
	r := &m.Linkage.Rods[l.Rod]
	name, tilt := r.Name()+"'s rod end", "tilt "+Angle(r.Spec.End.Tilt)
	if r.Sided {
		name = r.Side.String() + " rod end"
	}
	if l.Column == 0 {
		tilt = "tilted " + Angle(m.Straight.Tilt[l.Rod][l.End]) + " straight ahead, at most " + Angle(r.Spec.End.Tilt)
	}
	return fmt.Sprintf("%s binds at the %s (%s)", name, Place(m, l.Rod, l.End), tilt)
}

// bindsMeans says of a rod end that binds straight ahead which others do as well, and what to do.
func bindsMeans(m *sweep.Model, l *sweep.Limit) string {
	if l.Kind != sweep.RodEnd {
		return ""
	}
	others := 0
	for rod := range m.Linkage.Rods {
		for end, tilt := range m.Straight.Tilt[rod] {
			most := m.Linkage.Rods[rod].Spec.End.Tilt
			if most > 0 && tilt > most && (rod != l.Rod || linkage.End(end) != l.End) {
				others++
			}
		}
	}
	also := ""
	if others > 0 {
		also = ", and " + Counted(others, "more rod end") + " likewise"
	}
	inner := "drop_arm.bolt"
	if m.Setup.Rack != nil {
		inner = "rack.bolt"
	}
	return also + "; say how their bolts really stand (arm.bolt, " + inner + "), or tilt the bolts, bring pickup and pin to one height, or fit rod ends that lean further"
}

// InputMeasures says how what the steering wheel moves is measured.
func InputMeasures(m *sweep.Model) string {
	if m.Linkage.Slides(linkage.Input) {
		return "rack.per_turn: the rack's way for a turn of the steering wheel, positive where it goes left when the wheel turns left. Balls: steering centred."
	}
	return "Column axes [down, left, along]: from column.foot, column centred; along runs up the column to the driver."
}

// backwards says what turns the steering the right way.
func backwards(s *setup.Setup) string {
	if s.Linkage() == setup.RackRods {
		return "the rack goes the other way with the pinion on its other side (rack.per_turn of the other sign)"
	}
	ahead, hangs := senses(s)
	if s.Before != nil {
		switch aheadWas, hung := senses(s.Before); {
		case ahead == -aheadWas && hangs == hung:
			return "[change] turned the spindles round and not the drop arm: turn that over too (change.turn_drop_arm_over = true)"
		case ahead == aheadWas && hangs == -hung:
			return "[change] turned the drop arm over and not the spindles: leave it as it was (change.turn_drop_arm_over = false), or swap the spindles too"
		case ahead == -aheadWas && hangs == -hung && ahead == hangs:
			return "[change] turned spindles and drop arm, and before it they were the wrong way round for one another already; " +
				"are " + balls(s) + " given as they stand after it? Figures are as the parts hang before the change"
		}
	}
	switch {
	case ahead < 0 && hangs < 0:
		return "arms behind the kingpins need a drop arm that hangs below the column (down positive), and this one stands above it; is a sign wrong?"
	case ahead > 0 && hangs > 0:
		return "arms ahead of the kingpins need a drop arm that stands above the column (down negative), and this one hangs below it; is a sign wrong?"
	}
	return "arms and drop arm are not the wrong way round for one another, so look whether " + balls(s) + " and column.rake are as measured"
}

// senses reports whether the arms that the column drives stand ahead of the kingpins, +1, or behind, -1, and whether the drop arm
// hangs below the column, +1, or stands above it, -1; 0 where the two sides differ.
func senses(s *setup.Setup) (ahead, hangs float64) {
	for _, side := range setup.Sides {
		pickup, pin := s.Corners[side].Arm.Pickup, s.DropArm.Pins[side]
		if s.DragLink != nil {
			pickup, pin = s.DragLink.Pickup, s.DropArm.Pins[s.DragLink.Side]
		}
		ahead += math.Copysign(0.5, pickup.X)
		hangs += math.Copysign(0.5, pin.X)
	}
	return ahead, hangs
}

// balls names the keys of the balls between column and arms.
func balls(s *setup.Setup) string {
	if s.DragLink != nil {
		return "drag_link.pickup, drop_arm.pin"
	}
	return "arm.pickup, the pins of drop_arm"
}

// Error puts the figures of an error of the linkage into words; other errors stay as they are.
func Error(err error) error {
	var e *linkage.AssemblyError
	if !errors.As(err, &e) {
		return err
	}
	by, word, limit, bound := e.Least-e.Rod, "short", "at least", e.Least
	if e.Rod > e.Greatest {
		by, word, limit, bound = e.Rod-e.Greatest, "long", "at most", e.Greatest
	}
	u := e.Unit
	text := fmt.Sprintf("the %s is %.3g %s too %s to assemble with the column centred: it has %.6g %s, %s %.6g %s would reach",
		e.Name, u.FromMM(by), u, word, u.FromMM(e.Rod), u, limit, u.FromMM(bound), u)
	return worded{strings.Replace(err.Error(), e.Error(), text, 1), err}
}

// worded is an error in other words.
type worded struct {
	text string
	err  error
}

func (w worded) Error() string { return w.text }
func (w worded) Unwrap() error { return w.err }
