package export

import (
	"locksweep/geometry/rods"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/wording"
)

// rodsJSON is the object that rods --json prints. Keys are fixed; more may be added.
type rodsJSON struct {
	headJSON
	Rods     []cutRodJSON  `json:"rods"`
	Assumed  []string      `json:"assumed"`
	Warnings []warningJSON `json:"warnings"`
}

type cutRodJSON struct {
	Name            string         `json:"name"`
	Length          number         `json:"length"`     // centre to centre
	PlusMinus       number         `json:"plus_minus"` // null where the file does not say how exact it is
	Cut             number         `json:"cut"`
	Exposed         number         `json:"exposed"`
	Outer           number         `json:"outer"`
	Bore            number         `json:"bore"` // 0 of a bar
	Material        string         `json:"material"`
	Thread          threadJSON     `json:"thread"`
	ThreadDepth     number         `json:"thread_depth"`
	LeftHand        bool           `json:"left_hand"`
	Engagement      number         `json:"engagement"`
	LeastEngagement number         `json:"least_engagement"`
	ScrewOut        number         `json:"screw_out"`
	ScrewIn         number         `json:"screw_in"`
	Middle          middleJSON     `json:"middle"`
	WitnessHole     number         `json:"witness_hole"`
	ToePerTurn      bySide[number] `json:"toe_per_turn"` // of one end, longer positive, toe-in positive
	LengthPerTurn   number         `json:"length_per_turn"`
	Donor           *donorJSON     `json:"donor,omitempty"`
}

type threadJSON struct {
	Name     string `json:"name"`
	Diameter number `json:"diameter"`
	Pitch    number `json:"pitch"`
	TapDrill number `json:"tap_drill"`
}

// middleJSON is the length to cut for as much way out as in.
type middleJSON struct {
	Cut    number `json:"cut"`
	Travel number `json:"travel"`
}

type donorJSON struct {
	Off      number `json:"off"`
	BothEnds bool   `json:"both_ends"`
	Thread   number `json:"thread_left"`
	Verdict  string `json:"verdict"`
}

// Rods returns what to cut for the rods as JSON; sure is how exact their lengths are, nil where that is not known.
func Rods(m *sweep.Result, list []rods.Rod, sure *tolerance.Result, src *Source) []byte {
	u := m.Setup.Unit
	out := &rodsJSON{
		headJSON: src.head("locksweep.rods/1", m.Setup),
		Assumed:  append([]string{}, wording.RodsAssumed(u, list)...), Warnings: src.found(m, first),
	}
	for i := range list {
		r := &list[i]
		one := cutRodOf(lengths{u}, r)
		if sure != nil {
			one.PlusMinus = lengths{u}.of(sure.OfRod(r.Index).PlusMinus())
		}
		out.Rods = append(out.Rods, one)
		for _, text := range wording.RodFindings(u, r) {
			out.Warnings = append(out.Warnings, warningJSON{"rod", text})
		}
	}
	return encode(out)
}

func cutRodOf(in lengths, r *rods.Rod) cutRodJSON {
	out := cutRodJSON{
		Name: r.Name, Length: in.of(r.Length), PlusMinus: unknown, Cut: in.of(r.Cut), Exposed: in.of(r.Exposed), Outer: in.of(r.Spec.Outer()), Bore: in.of(r.Spec.Bore()),
		Material:    r.Spec.Stock.Material.String(),
		Thread:      threadJSON{r.Thread.String(), in.of(r.Thread.Diameter), in.of(r.Thread.Pitch), in.of(r.Thread.TapDrill())},
		ThreadDepth: in.of(r.Depth), LeftHand: r.Spec.Stock.LeftHand, Engagement: in.of(r.Engagement), LeastEngagement: in.of(r.Least),
		ScrewOut: in.of(r.Out), ScrewIn: in.of(r.In), Middle: middleJSON{in.of(r.Middle), in.of(r.MiddleTravel)}, WitnessHole: in.of(r.Witness),
		ToePerTurn: angles(r.Pitch), LengthPerTurn: in.of(r.PerTurn()),
	}
	if d := r.Donor; d != nil {
		verdict := [4]string{rods.Serves: "serves", rods.Tight: "tight", rods.Deeper: "cut the thread deeper", rods.TooShort: "too short"}[d.Verdict]
		out.Donor = &donorJSON{in.of(d.Off), d.BothEnds, in.of(d.Thread), verdict}
	}
	return out
}
