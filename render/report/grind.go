package report

import (
	"fmt"
	"slices"
	"strings"

	"locksweep/geometry/grind"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/wording"
)

// Grind is the report of a plan to grind.
func Grind(pl *grind.Plan, opt Options) []byte {
	p := begin(pl.Model.Setup, opt, wording.Alarms(pl.Model, &pl.Before))
	p.row("Answer", p.then(pl).Says("lock_inner", wording.GrindAnswer(pl)))
	if text := wording.RootsTaken(pl); text != "" {
		p.row("", wording.Capital(text))
	}
	p.advices(pl)
	p.cuts(pl)
	p.gains(pl)
	p.nextLimits(pl)
	p.depths(pl)
	p.items("Before you grind", wording.GrindCautions)
	p.caution()
	return p.Bytes()
}

// then is what is known of the vehicle with the cuts, for its figures; of the vehicle as it stands where nothing else is known.
func (p *page) then(pl *grind.Plan) wording.Known {
	if pl.Sure != nil && pl.Model.Setup.Accuracy.Given {
		return wording.Known{Sure: pl.Sure}
	}
	return p.known
}

// advices says what must be known of the stop before metal comes off.
func (p *page) advices(pl *grind.Plan) {
	for _, text := range wording.StopAdvices(pl) {
		p.loud(text)
	}
	for _, text := range slices.Concat(wording.GrindAdvices(pl), wording.UnsurePlan(pl)) {
		p.marked(text)
	}
}

// cuts lists what comes off each plate.
func (p *page) cuts(pl *grind.Plan) {
	u := pl.Model.Setup.Unit
	p.items("What comes off", wording.InTurn(pl.Cuts, func(c *grind.Cut) string {
		text := fmt.Sprintf("%s; %s; %s; %s", wording.CutLine(pl, c), wording.LeftLine(u, c), wording.WallLine(pl, c), wording.PassLine(pl, c))
		for _, more := range []string{wording.TipsLine(u, c), wording.CornersLine(u, c)} {
			if more != "" {
				text += "; " + more
			}
		}
		return text
	}, func(c *grind.Cut) string { return wording.Piece(pl.Model, c.Piece) + ": the same" }))
}

// gains says what the cut brings.
func (p *page) gains(pl *grind.Plan) {
	u := pl.Model.Setup.Unit
	p.heading("What it brings")
	rows := [][]string{{"", "left now", "then", "right now", "then"}}
	then := p.then(pl)
	add := func(label, key string, of func(m *sweep.Model, lock *sweep.Lock, d sweep.Direction) string) {
		row := []string{label}
		for _, d := range sweep.Directions {
			row = append(row, p.known.Says(key, of(pl.Model, &pl.Before[d], d)), then.Says(key, of(pl.After, &pl.Locks[d], d)))
		}
		rows = append(rows, row)
	}
	add("inner wheel at lock", "lock_inner", func(_ *sweep.Model, lock *sweep.Lock, d sweep.Direction) string {
		return wording.Angle(pl.SteerAt(d, lock.Column))
	})
	add("steering wheel at lock", tolerance.LockColumn, func(_ *sweep.Model, lock *sweep.Lock, _ sweep.Direction) string {
		return wording.Angle(lock.Column.Abs())
	})
	add("turning circle", "turning_circle_balanced", func(m *sweep.Model, lock *sweep.Lock, _ sweep.Direction) string {
		return wording.Ground(u, m.Figures(&lock.Pose).Circle.OverFrontTyres)
	})
	add(strings.ToLower(wording.SlideAtLock), "slide_held_outside", func(m *sweep.Model, lock *sweep.Lock, _ sweep.Direction) string {
		return wording.Angle(grind.SlideHeld(m, lock))
	})
	p.table(rows)
	p.line("", strings.ToLower(wording.SlideAtLock)+": turned against the turn "+wording.OnPath(u, grind.SlideRadius(pl.Model.Setup))+",")
	p.line("", "the slide in which the wheel that runs out first still rolls free")
}

// nextLimits says what would stop the wheels next, and the most that grinding alone gives.
func (p *page) nextLimits(pl *grind.Plan) {
	p.heading("What limits next")
	var said [2][]string
	for _, d := range sweep.Directions {
		chain := pl.Locks[d].Chain
		if len(chain) == 0 {
			said[d] = []string{"nothing within " + wording.Followed(pl.Model) + " of the steering wheel"}
			continue
		}
		said[d] = []string{wording.Next(pl, d, &chain[0])}
		if i := slices.IndexFunc(chain[1:], func(l sweep.Limit) bool { return pl.Stays(&l) }); i >= 0 {
			said[d] = append(said[d], "and what grinding does not take away: "+wording.Next(pl, d, &chain[1+i]))
		}
		most := &pl.Most[d]
		said[d] = append(said[d], fmt.Sprintf("the most that grinding alone gives is %s: %s", wording.Angle(most.Steer), wording.Blocks(pl.Model, most)))
	}
	if wording.Likewise(strings.Join(said[0], "\n"), strings.Join(said[1], "\n")) {
		said[1] = []string{"the same on the other side"}
	}
	for _, d := range sweep.Directions {
		p.rows(d.String(), said[d])
	}
}

// depths is the table of lock against depth.
func (p *page) depths(pl *grind.Plan) {
	if len(pl.Curve) < 2 {
		return
	}
	u := pl.Model.Setup.Unit
	p.heading("D" + wording.CurveDepth(pl)[1:] + ", and " + wording.CurveLabel(pl))
	rows := [][]string{{"depth (" + u.String() + ")", "left", "right", "gain left", "right"}}
	first := pl.Curve[0]
	for _, s := range pl.Curve {
		row := []string{wording.Figure(u, s.Depth), "", "", "", ""}
		for _, d := range sweep.Directions {
			row[1+d], row[3+d] = "-", "-"
			if !s.Ended[d] {
				row[1+d], row[3+d] = wording.Angle(s.Lock[d]), wording.Signed(wording.Angle(s.Lock[d]-first.Lock[d]))
			}
		}
		rows = append(rows, row)
	}
	p.table(rows)
	for _, text := range append(wording.CurveExplained(pl), wording.CurveEnds(pl)...) {
		p.paragraph(text)
	}
}
