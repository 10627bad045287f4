package grind

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/trial"
	"locksweep/geometry/region"
)

// What the joined sections of a concave post sweep is what its convex pieces sweep one by one. The first post is one whose joined outline
// had the same corner three times but for rounding, and crossed itself there once it was turned.
func TestJoinedSectionsSweepTheSame(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 11))
	post := corners(27.23664070911495, -45.78209323319586, 14.945540322842216, -37.07325978603669, 5.941284215617383, -42.271558438448544, -0.2716498248053405,
		-44.679302509508865, 6.208880688999212, -54.65439642002711, 9.809474356809783, -66.43121487057843, 22.534163714300693, -58.89933738681144)
	for i := range trial.Count(9, 40) {
		text := trialOf(lug("") + part("post", "frame", "at = \"kingpin\"\n"+plateOf(post, -30, 30)))
		p := leftPlate(t, model(t, "ignore = [[\"lug\", \"post\"], "+text[len("ignore = ["):]), "lug")
		o := 0
		for p.model.Scene.Pieces[o].Name != "post" || p.model.Scene.Pieces[o].Side != p.model.Scene.Pieces[p.piece].Side {
			o++
		}
		for _, gap := range []float64{leastGap, 2} {
			s, err := p.sectionsOf(o, gap, DefaultChord)
			if err != nil {
				t.Fatal(err)
			}
			for _, section := range s.joined {
				for k, q := range section {
					if d := section[(k+1)%len(section)].Sub(q).Norm(); d < 1e-7 { // turned, these may cross each other
						t.Errorf("post %d, gap %g: %v twice", i, gap, q)
					}
				}
			}
			from, by := -0.6*r.Float64(), 0.03+0.5*float64(i%3)
			area := func(sections [][]r2.Point) float64 {
				var all []region.Region
				for _, section := range sections {
					for _, outline := range turned(section, r2.Point{}, from, from+by, DefaultChord) {
						all = append(all, region.Of(outline))
					}
				}
				joined, err := region.Union(all...)
				if err != nil {
					t.Fatal(err)
				}
				return joined.Area()
			}
			apart := area(s.apart)
			near(t, fmt.Sprintf("post %d, gap %g", i, gap), area(s.joined), apart, 1e-3+1e-5*apart)
		}
		post = star(r, r2.Point{X: 60 - 120*r.Float64(), Y: -70 + 60*r.Float64()}, 4+r.IntN(5), 6, 18)
	}
}
