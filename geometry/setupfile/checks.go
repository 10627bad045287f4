package setupfile

import (
	"slices"

	"locksweep/geometry/setup"
)

const (
	maxTaped  = 200
	maxTurned = 100
	maxMarks  = 20
)

// checks reads [[mark]], [[taped]] and [[turned]]. All that tapes can be held to is known already.
func (d *decoder) checks(t *table, s *setup.Setup) {
	for _, v := range d.counted(t.get("mark"), maxMarks) {
		d.mark(v.sub(), s)
	}
	var names []string
	for _, p := range s.Places() {
		names = append(names, p.Name)
	}
	for _, v := range d.counted(t.get("taped"), maxTaped) {
		s.Checks.Taped = append(s.Checks.Taped, d.taped(v.sub(), names, s))
	}
	for _, v := range d.counted(t.get("turned"), maxTurned) {
		s.Checks.Turned = append(s.Checks.Turned, d.turned(v.sub(), s))
	}
}

// counted reads a list of tables, none where there are too many.
func (d *decoder) counted(v value, most int) []value {
	items := v.items()
	if len(items) > most {
		v.fail("stands %d times; at most %d are read", len(items), most)
		return nil
	}
	return items
}

// ownAccuracy reads the half-width of one tape or mark, mm; 0 where the file does not say.
func (v value) ownAccuracy() float64 {
	exact := v.sizeOr(0)
	if exact > maxAccuracy {
		v.fail("is %s, more than a metre; leave the figure out if it is not known at all", v.d.say(exact))
	}
	return exact
}

// maxAccuracy is the greatest half-width of a tape or of a mark's place: whoever only knows roughly where a mark is may
// say so, which tells it from its mirror image.
const maxAccuracy = 1000 // mm

func (d *decoder) mark(t *table, s *setup.Setup) {
	name := t.need("name", "what the mark is called")
	t.rename("mark", name)
	at, exact := t.get("at"), t.get("accuracy")
	m := setup.Mark{Name: name.text(), Given: at.given(), Accuracy: exact.ownAccuracy()}
	if m.Given {
		m.At = at.point(vehicleNames)
	} else if exact.given() {
		exact.fail("says how exact at is, and at is not given")
	}
	if _, taken := s.Place(m.Name); taken && m.Name != "" {
		name.fail("%s is the name of another point; call the mark otherwise", quoted(m.Name))
	}
	s.Checks.Marks = append(s.Checks.Marks, m)
	t.done()
}

func (d *decoder) taped(t *table, names []string, s *setup.Setup) setup.Taped {
	from := t.need("from", `the point that the tape begins at, such as "left pickup"`)
	to := t.need("to", `the point that it ends at, such as "right kingpin"`)
	distance := t.need("distance", "what the tape reads between the two")
	out := setup.Taped{From: from.pointNamed(names), To: to.pointNamed(names), Distance: distance.size(), Accuracy: t.get("accuracy").ownAccuracy()}
	if out.From != "" && out.From == out.To {
		to.fail("is where the tape begins; give two points")
	}
	a, okA := s.Place(out.From)
	b, okB := s.Place(out.To)
	if okA && okB && out.From != out.To && !unplaced(s, a) && !unplaced(s, b) {
		pa, _ := a.At(s)
		pb, _ := b.At(s)
		if pa.Sub(pb).Norm() < leastLever {
			to.fail("is the same point as %s; a tape needs two", quoted(out.From))
		}
	}
	t.done()
	return out
}

// unplaced reports whether a place is a mark that is still to be found.
func unplaced(s *setup.Setup, p setup.Place) bool {
	return slices.ContainsFunc(s.Checks.Marks, func(m setup.Mark) bool { return m.Name == p.Name && !m.Given })
}

// pointNamed reads the name of a point; empty where it is missing or wrong.
func (v value) pointNamed(names []string) string {
	if !v.given() {
		return ""
	}
	name := v.text()
	if name == "" || slices.Contains(names, name) {
		return name
	}
	if !v.d.broken {
		v.fail("names no point of the vehicle%s", orList(name, names))
	}
	return ""
}

func (d *decoder) turned(t *table, s *setup.Setup) (out setup.Turned) {
	most := 180.0
	if s.Rack != nil {
		most = 1800
	}
	out.Column = t.need("column", "what the steering wheel was turned to, left positive").angle(between(-most, most, " degrees"))
	for _, side := range setup.Sides {
		if v := t.get(side.String()); v.given() {
			out.Steer[side], out.Read[side] = v.angle(between(-120, 120, " degrees")), true
		}
	}
	if t.n != nil && !out.Read[setup.Left] && !out.Read[setup.Right] && !d.broken {
		d.fail(t.at, t.path, "has no reading: give left, right or both, what the wheel was seen to stand at, to the left positive")
	}
	t.done()
	return out
}
