package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"locksweep/geometry/linkage"
	"locksweep/geometry/loads"
)

// wantedMargin is the margin under which something is thin and a cure is told (common practice, no source).
const wantedMargin = 3

// checkNames are what is judged, as the report calls it.
var checkNames = [6]string{
	loads.Buckling: "Buckling", loads.Thread: "Rod end thread", loads.BoltBending: "Bolt bends", loads.BoltShear: "Bolt shears",
	loads.HoleEdge: "Hole's edge", loads.StopPlate: "Stop plate",
}

// Judgement is how far something is from giving way, alike in all the places where it is judged.
type Judgement struct {
	Name  string // of what is judged
	Text  string
	Weak  []loads.Check
	gives bool
}

// Judgements says how far things are from giving way, the order kept, those that read alike in one.
func Judgements(m *loads.Model, weak []loads.Check) (list []Judgement) {
	for _, w := range weak {
		name, text := checkNames[w.Kind], judged(m, w)
		i := slices.IndexFunc(list, func(v Judgement) bool { return v.Name == name && v.Text == text })
		if i < 0 {
			i, list = len(list), append(list, Judgement{Name: name, Text: text, gives: !(w.Margin >= 1)})
		}
		list[i].Weak = append(list[i].Weak, w)
	}
	return list
}

// AtEnds is the verdict on a rod with the ends that it holds for.
func (v *Judgement) AtEnds(m *loads.Model) string {
	if place := atEnds(m, v.Weak); place != "" {
		return place + ": " + v.Text
	}
	return v.Text
}

// where names every place that the verdict holds for: "left tie rod and right tie rod at the drop arm".
func (v *Judgement) where(m *loads.Model) string {
	if v.Weak[0].Kind == loads.StopPlate {
		var turned []string
		for _, w := range v.Weak {
			turned = append(turned, "turned "+w.Lock.String())
		}
		return joined(turned)
	}
	var places []string
	rods := map[string][]string{} // by place
	for rod := range m.Linkage.Rods {
		own := slices.DeleteFunc(slices.Clone(v.Weak), func(w loads.Check) bool { return w.Rod != rod })
		if len(own) == 0 {
			continue
		}
		place := atEnds(m, own)
		if !slices.Contains(places, place) {
			places = append(places, place)
		}
		rods[place] = append(rods[place], m.Linkage.Rods[rod].Name())
	}
	for i, place := range places {
		places[i] = strings.TrimSpace(joined(rods[place]) + " " + place)
	}
	return joined(places)
}

// atEnds says which ends of one rod are meant: "at the drop arm", "at both ends"; nothing where the whole rod is.
func atEnds(m *loads.Model, weak []loads.Check) string {
	switch {
	case !weak[0].Kind.AtEnd():
		return ""
	case len(weak) == len(linkage.Ends):
		return "at both ends"
	}
	return "at the " + Place(m.Model, weak[0].Rod, weak[0].End)
}

// judged says how far something is from giving way, and what would make it safe.
func judged(m *loads.Model, w loads.Check) string {
	have := fmt.Sprintf("%s N/mm² of %s", rounded(w.Stress), Fixed(w.Capacity, 0))
	switch {
	case w.Kind != loads.StopPlate && Newtons(w.Force) == none:
		return "the force grows without bound: the rod stands in line with an arm"
	case w.Kind == loads.Buckling && w.Force == 0:
		return "never pressed, nothing to buckle it"
	case math.IsNaN(w.Stress):
		have = fmt.Sprintf("%s of %s", Newtons(math.Abs(w.Force)), Newtons(w.Capacity))
	}
	if m.Shared(w) {
		have += " by both rods on one bolt"
	}
	text := fmt.Sprintf("%s, margin %s", have, rounded(w.Margin))
	if !(w.Margin >= 1) {
		text += ", it gives way"
	}
	if !(w.Margin >= wantedMargin) {
		text += "; " + cure(m, w)
	}
	return text
}

// cure is what would make something safe.
func cure(m *loads.Model, w loads.Check) string {
	switch w.Kind {
	case loads.Buckling:
		return "a thicker tube, or a shorter rod"
	case loads.Thread:
		return "a rod end with a thicker thread, or of better steel"
	case loads.BoltBending:
		b, _ := m.Bolt(w.Rod, w.End)
		if b.Double {
			return "a thicker bolt, or less between the plates"
		}
		return fmt.Sprintf("held on both sides of the eye (double shear) it would be half; or the eye nearer to the %s than %s, or a thicker bolt",
			metalAt(m, w.Rod, w.End), Length(m.Setup.Unit, b.Offset))
	case loads.BoltShear:
		return "a thicker bolt, or one in double shear"
	case loads.HoleEdge:
		return "a hole further from the edge, or thicker plate"
	}
	return "a thicker plate, or a stop further from the kingpin"
}

// metalAt is what an end of a rod is bolted to: "arm", "rack".
func metalAt(m *loads.Model, rod int, end linkage.End) string {
	if m.Linkage.Slides(m.Linkage.Rods[rod].On(end)) {
		return "rack"
	}
	return "arm"
}

// Strained says what gives way under what it has to bear, and what is thin, the least margin first; those alike in one.
func Strained(m *loads.Model) (gives, thin []string) {
	weak := slices.DeleteFunc(m.Weakest(), func(w loads.Check) bool { return w.Margin >= wantedMargin })
	for _, v := range Judgements(m, weak) {
		if line := fmt.Sprintf("%s, %s: %s", v.where(m), lowered(v.Name), v.Text); v.gives {
			gives = append(gives, "GIVES WAY: "+line)
		} else {
			thin = append(thin, "Thin: "+line)
		}
	}
	return gives, thin
}

// LeastMargin says the least margin of all, where none is thin.
func LeastMargin(m *loads.Model) string {
	v := &Judgements(m, m.Weakest()[:1])[0]
	return fmt.Sprintf("%s: %s, %s", rounded(v.Weak[0].Margin), v.where(m), lowered(v.Name))
}

// lowered begins a text with a small letter.
func lowered(text string) string { return strings.ToLower(text[:1]) + text[1:] }

// boltsAssumed says what is taken for granted of the bolts at both ends of a rod.
func boltsAssumed(m *loads.Model, rod int, said *remarks) {
	r := &m.Linkage.Rods[rod]
	stock := &r.Spec.Stock
	keys := [2]string{linkage.AtArm: "bolt", linkage.AtDropArm: "inner_bolt"}
	others := [2]bool{linkage.AtArm: stock.InnerBolt.Double, linkage.AtDropArm: stock.Bolt.Double}
	for _, end := range linkage.Ends {
		b, ok := m.Bolt(rod, end)
		if !ok {
			continue
		}
		if b.OffsetAssumed {
			said.add(r.Name(), fmt.Sprintf("at the %s the eye's middle %s from the %s's face (%s)", Place(m.Model, rod, end),
				Length(m.Setup.Unit, b.Offset), metalAt(m, rod, end), rodKey(r.Part, keys[end]+".offset")))
		}
		if others[end] && !b.Double {
			said.add(r.Name(), fmt.Sprintf("at the %s the bolt is held on one side of the eye (%s)", Place(m.Model, rod, end), rodKey(r.Part, keys[end]+".double")))
		}
	}
}
