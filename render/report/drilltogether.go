package report

import (
	"github.com/golang/geo/s1"

	"locksweep/geometry/drill"
	"locksweep/render/wording"
)

// together says what hole and cut bring, each alone and both, which comes first, and what is to be ground.
func (p *page) together(t *drill.Together) {
	p.heading("Hole and stop together")
	if t.Plan == nil {
		p.loud("no plan: " + wording.NoTogether(t))
		return
	}
	p.row("", "as if all that may be ground were gone; then the cut that suits place 1. The cut alone: as far as grind goes with today's hole")
	lines := []struct {
		label string
		lock  s1.Angle
	}{{"lock today", t.Now}, {"the hole alone", t.Hole}, {"the cut alone", t.Cut}, {"hole and cut", t.Both}}
	for _, l := range lines {
		text := wording.Angle(l.lock)
		if l.label == "the cut alone" && text == "-" {
			text = "nothing can be ground with today's hole"
		}
		p.row(l.label, text)
	}
	first := [3]string{
		drill.HoleFirst: "drill the hole and cut the rods to suit: the stop as it is still holds the wheels then. Then grind, and try it lock to lock after each pass",
		drill.CutFirst:  "grind first: with the hole drilled before that, nothing would hold the wheels in between",
		drill.AtOnce:    "do both before the wheels are turned on the ground: with either alone nothing holds them",
	}[t.First]
	if t.Best[0].Spot == t.Current.Spot {
		first = "the hole stays where it is: grind, and try it lock to lock after each pass"
	}
	p.row("First", first)
	p.advices(t.Plan)
	if len(t.Plan.Cuts) == 0 {
		p.row("Cut", "nothing needs to come off: with the hole alone the lock is there")
		return
	}
	p.cuts(t.Plan)
	p.items("Before you grind", wording.GrindCautions)
}
