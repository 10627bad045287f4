package setupfile

import (
	"math"
	"slices"
	"strings"

	"locksweep/geometry/setup"
)

// accuracy reads [accuracy]. The whole setup but for what [change] does is known already.
func (d *decoder) accuracy(v value, s *setup.Setup) {
	s.Accuracy = setup.DefaultAccuracy(d.unit)
	t := v.sub()
	a := &s.Accuracy
	a.Given = v.given()
	read := func(key string, of setup.Quantity, into *float64) {
		*into = t.get(key).or(t.get(key).halfWidth(of), *into)
	}
	read("place", setup.OfLength, &a.Place)
	read("height", setup.OfLength, &a.Height)
	read("hole", setup.OfLength, &a.Hole)
	read("rod", setup.OfLength, &a.Rod)
	read("outline", setup.OfLength, &a.Outline)
	read("tape", setup.OfLength, &a.Tape)
	read("angle", setup.OfAngle, (*float64)(&a.Angle))
	read("turned", setup.OfAngle, (*float64)(&a.Turned))
	if keys := t.get("keys").sub(); keys.n != nil && len(d.errs) == 0 && !d.broken {
		d.accuracyOf(keys, keys.n, "", s)
	}
	t.done()
}

// halfWidth reads how exact something is, mm or radians; exactly 0 is allowed, NaN where it is wrong.
func (v value) halfWidth(q setup.Quantity) float64 {
	if q == setup.OfLength {
		most := v.d.unit.FromMM(setup.GreatestAccuracy)
		return v.length(between(0, most, " "+v.d.unit.String()+"; what is less exact has not been measured"))
	}
	return float64(v.angle(between(0, setup.GreatestAngleAccuracy.Degrees(), " degrees; what is less exact has not been measured")))
}

// accuracyOf reads the accuracies of single keys. Keys that are not in quotes come as tables in one another; before is
// the key of the table n.
func (d *decoder) accuracyOf(t *table, n *node, before string, s *setup.Setup) {
	for _, f := range n.fields {
		key := f.name
		if before != "" {
			key = before + "." + f.name
		}
		if f.val.kind == branch {
			d.accuracyOf(t, f.val, key, s)
			continue
		}
		v := value{d: d, n: f.val, under: t.path, home: t.home, name: key, index: -1, own: t.own, at: f.at}
		known, of, wrong := d.measured(key, s)
		if wrong != "" {
			v.fail("%s", wrong)
			continue
		}
		v.at = f.val.at
		if half := v.halfWidth(of); !math.IsNaN(half) {
			if s.Accuracy.Keys == nil {
				s.Accuracy.Keys = map[string]float64{}
			}
			s.Accuracy.Keys[known] = half
		}
	}
}

// measured finds what a key means, as setup.Reading.Holds has it; wrong says why it has no accuracy. A key of a part or hole that only the
// file as it stands has, and this variant of it has not, means nothing and is no mistake.
func (d *decoder) measured(key string, s *setup.Setup) (known string, of setup.Quantity, wrong string) {
	head, each, _ := strings.Cut(key, "[*]")
	path, wrong := parsePath(head)
	if wrong != "" {
		return "", 0, wrong
	}
	known = pathString(path)
	if head != key {
		known += "[*]" + each
	}
	var keys []string
	for _, r := range s.Readings() {
		if slices.Contains(r.Holds, known) {
			return known, r.Quantity, ""
		}
		keys = append(keys, r.Holds...)
	}
	if d.elsewhere[known] {
		return known, 0, ""
	}
	if _, m := s.Figure(known); m.Key != "" {
		return known, 0, "is not measured or not given here, so it has no accuracy"
	}
	return known, 0, "is no figure of this file" + didYouMean(known, keys)
}
