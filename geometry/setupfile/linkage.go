package setupfile

import (
	"cmp"
	"math"

	"locksweep/geometry/setup"
)

// steering reads what turns the spindles beside the tie rods: [column] and [drop_arm], with [drag_link] where there is one,
// or [rack].
func (d *decoder) steering(t *table, s *setup.Setup) {
	rack, link := t.get("rack"), t.get("drag_link")
	if !rack.given() {
		if link.given() {
			s.DragLink = d.dragLink(link.sub(), s)
		}
		d.column(t, s)
		return
	}
	for _, name := range []string{"column", "drop_arm", "drag_link"} {
		if v := t.get(name); v.given() {
			v.fail("is given beside [rack], which takes the place of column and drop arm; keep one of them")
		}
	}
	d.rack(rack.sub(), s)
}

// dragLink reads [drag_link]. The corners are known already.
func (d *decoder) dragLink(t *table, s *setup.Setup) *setup.DragLink {
	link := &setup.DragLink{Side: max(0, t.need("side", "whose steering arm it turns, left or right").side())}
	pickup := t.need("pickup", "its ball on that arm, [forward, outboard, up] from the kingpin centre, or the name of one of the arm's holes")
	link.Pickup = pickup.place(s.Corners[link.Side].Arm.Metal, cornerNames)
	link.Bolt = t.get("pickup_bolt").direction(cornerNames)
	link.Rod = d.rod(t, "drag-link", s)
	link.Rod.Length = t.get("length").sizeOr(0)
	pickup.needLever(s.Corners[link.Side].Kingpin, link.Pickup)
	t.done()
	return link
}

// crossRod refuses what a cross rod has not, and whose ends are too near each other.
func (d *decoder) crossRod(rod, drop *table, s *setup.Setup) {
	for _, side := range setup.Sides {
		if v := rod.get(side.String()); v.given() {
			v.fail("is the length of a rod of its own; with a drag link one cross rod joins both arms: give length")
		}
		if v := drop.get(side.String()); v.given() {
			v.fail("is the pin of a tie rod; with a drag link the drop arm carries that alone: give pin")
		}
		if v := drop.get(side.String() + "_bolt"); v.given() {
			v.fail("is for two tie rods; with a drag link give bolt")
		}
	}
	left, right := s.CornerPoint(setup.Left, s.Corners[setup.Left].Arm.Pickup), s.CornerPoint(setup.Right, s.Corners[setup.Right].Arm.Pickup)
	if left.Sub(right).Norm() < leastLever {
		d.fail(rod.at, rod.path, "would have no length: both steering arms have their pickups at one point")
	}
}

func (d *decoder) rack(t *table, s *setup.Setup) {
	r := &setup.Rack{}
	both := t.get("bolt").direction(vehicleNames)
	balls := [2]value{
		t.need("left", "the left tie rod's inner ball with the steering centred, [x, y, z] in vehicle axes"),
		t.need("right", "the right tie rod's inner ball with the steering centred, [x, y, z] in vehicle axes"),
	}
	for _, side := range setup.Sides {
		r.Balls[side] = balls[side].point(vehicleNames)
		r.Bolts[side] = cmp.Or(t.get(side.String()+"_bolt").direction(vehicleNames), both)
		if gap := r.Balls[side].Sub(s.CornerPoint(side, s.Corners[side].Arm.Pickup)).Norm(); gap < leastLever {
			balls[side].fail("lies on the %v steering arm's pickup; the rod between them would have no length", side)
		}
	}
	switch across := r.Balls[setup.Left].Sub(r.Balls[setup.Right]); {
	case across.Norm() < leastLever:
		balls[setup.Left].fail("is where the right ball is; the line between the two is the way that the rack slides, so give two points apart")
	case across.Y < 0:
		balls[setup.Left].warn("rack-crossed", "lies to the right of the right ball, so that the rods cross; left is positive")
	}
	turn := t.need("per_turn", "how far the rack goes for a turn of the steering wheel; positive moves it to the left when the wheel turns left")
	if r.PerTurn = turn.length(); math.Abs(r.PerTurn) < leastPerTurn {
		turn.fail("hardly moves the rack; measure how far it goes for one whole turn of the steering wheel")
	}
	r.Travel, r.Diameter = t.get("travel").sizeOr(0), t.get("diameter").sizeOr(setup.DefaultRackDiameter)
	if !t.get("diameter").given() {
		d.assume(s, "rack diameter %s", d.say(setup.DefaultRackDiameter))
	}
	s.Rack = r
	t.done()
}

// leastPerTurn is the least way of a rack for a turn of the steering wheel, mm.
const leastPerTurn = 5

// RodKeys lists the ways in which a file may give the lengths of the rods that turn the spindles: keys by side, as --set
// takes them, of one key twice where it goes for both.
func RodKeys(s *setup.Setup) (ways [][2]string) {
	if _, side, ok := s.LinkBall(); ok {
		keys := [2]string{"tie_rod.length", "tie_rod.length"}
		keys[side] = "drag_link.length"
		return append(ways, keys)
	}
	return append(ways, [2]string{"tie_rod.length", "tie_rod.length"}, [2]string{"tie_rod.left", "tie_rod.right"})
}
