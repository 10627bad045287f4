package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/s1"
	"github.com/spf13/pflag"

	"locksweep/geometry/linkage"
	"locksweep/geometry/reconcile"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/wording"
)

var reconcileCommand = command{
	name: "reconcile", args: "SETUP",
	brief: "whether file and finished kart agree, and which figure is wrong",
	about: "Holds the file against [[taped]] and [[turned]] in it: tapes from point to\n" +
		"point, wheel angles read. locksweep card draws a page to measure by.",
	example:  "locksweep reconcile kart.toml -o kart2.toml",
	prepare:  prepareReconcile,
	searches: true,
}

type reconcileFlags struct {
	setupFlags
	saving saving
}

func prepareReconcile(flags *pflag.FlagSet) action {
	f := reconcileFlags{saving: saving{option: "-o"}}
	f.registerJSON(flags)
	flags.StringVarP(&f.saving.path, "output", "o", "", "write the setup file, with a variant as reconciled, to `FILE`")
	flags.BoolVar(&f.target.force, "force", false, "overwrite a file that is there already")
	f.source.register(flags)
	return f.forOne(f.run)
}

// otherVariants warns where another variant of the file fits what was measured far better than the setup asked for, or fits wheels' angles as
// they were put down that the setup takes for mixed up. One that steers backwards is not named beside a setup that does not.
func (f *reconcileFlags) otherVariants(sh *shell, asked *sweep.Model, r *reconcile.Result) {
	if r.Agrees() {
		return
	}
	best := f.fitting(asked, r)
	if len(best) == 0 {
		return
	}
	as, how := "", "far better"
	if r.Mixed != nil {
		how = "as it was put down"
	}
	for _, name := range best[1:] {
		as += fmt.Sprintf(", %q as well", name)
	}
	w := setupfile.Warning{Code: "variant-fits", Source: nameOf(f.source.path), Key: "variant",
		Text: fmt.Sprintf("%q fits what was measured %s%s: if the kart stands like that, ask with --variant %q", best[0], how, as, best[0])}
	f.source.warnings = append(f.source.warnings, w)
	sh.warn(w.String())
}

// fitting names the variants that otherVariants warns of, alike ones together.
func (f *reconcileFlags) fitting(asked *sweep.Model, r *reconcile.Result) (best []string) {
	const far, most = 10, 20 // times nearer, by the sum of squares; so many are tried
	least, variants := r.Misfit/far, asked.Setup.Variants
	for _, variant := range variants[:min(most, len(variants))] {
		if variant == f.source.opt.Variant {
			continue
		}
		src := f.source
		src.opt.Variant, src.opt.Known = variant, true
		other, err := src.setup()
		if err != nil {
			continue
		}
		if m, err := sweep.AsMeasured(other); err != nil || m.Backwards() && !asked.Backwards() {
			continue
		}
		const alike = 0.01 // of itself: variants that differ in nothing that was measured
		switch fits, err := reconcile.Run(other); {
		case err != nil || fits.Mixed != nil:
		case r.Mixed != nil:
			if fits.Agrees() {
				best = append(best, setup.Printable(variant))
			}
		case fits.Misfit < least*(1-alike):
			best, least = []string{setup.Printable(variant)}, fits.Misfit
		case len(best) > 0 && fits.Misfit <= least*(1+alike):
			best = append(best, setup.Printable(variant))
		}
	}
	return best
}

func (f *reconcileFlags) run(sh *shell) error {
	m, err := f.source.swept(sh, drawStep)
	if err := cmp.Or(err, f.saving.check()); err != nil {
		return err
	}
	r, err := reconcile.Run(m.Setup)
	var assembly *linkage.AssemblyError
	switch {
	case errors.As(err, &assembly):
		return f.source.about(err)
	case err != nil:
		return noAnswer{f.source.about(wording.ReconcileError(err))}
	}
	f.otherVariants(sh, m.Model, r)
	out := report.Reconcile(r, m, f.report(sh))
	if f.json {
		sh.alarms(wording.Alarms(m.Model, &m.Locks))
		out = export.Reconcile(r, m, f.source.origin())
	}
	if err := sh.print(out); err != nil {
		return err
	}
	return f.save(sh, r)
}

// save writes the setup with the adjusted figures as one more variant, where that is asked for.
func (f *reconcileFlags) save(sh *shell, r *reconcile.Result) error {
	if f.saving.path == "" {
		return nil
	}
	set := append(rightedWheels(r), f.settings(r)...)
	got, err := f.source.with(set...).setup()
	if err != nil {
		return noAnswer{f.source.about(err)}
	}
	if got.Before != nil {
		got = got.Before
	}
	if !asReconciled(r, got) {
		return noAnswer{f.source.about(errors.New("-o: the form of the file does not allow the adjusted figures; take them from --json"))}
	}
	return f.saving.write(sh, &f.source, "as reconciled", set, f.target.force)
}

// rightedWheels returns what --set takes to put mixed up wheels' angles right.
func rightedWheels(r *reconcile.Result) (set []string) {
	if r.Mixed == nil {
		return nil
	}
	for _, i := range r.Mixed.Turned {
		t := r.Setup.Checks.Turned[i]
		of := func(key string, a s1.Angle) {
			set = append(set, fmt.Sprintf("turned[%d].%s=%s", i, key, export.Figure(math.Round(a.Degrees()*1e6)/1e6)))
		}
		of("column", t.Column)
		for _, side := range setup.Sides {
			if t.Read[side] {
				of(side.String(), t.Steer[side])
			}
		}
	}
	return set
}

// settings returns what --set takes to get the adjusted figures: of each that moves all that stands with it, and on both
// sides, since the right corner follows the left one where the file does not say otherwise.
func (f *reconcileFlags) settings(r *reconcile.Result) (set []string) {
	moved := map[string]bool{} // keys without right. and index
	for _, v := range r.Values {
		if v.Adjusted != v.Given {
			key, _, _ := strings.Cut(strings.TrimPrefix(v.Key, "right."), "[")
			moved[key] = true
		}
	}
	for _, m := range r.Adjusted.Measures() {
		key := strings.TrimPrefix(m.Key, "right.")
		if moved["drop_arm.pin"] && (key == "drop_arm.left" || key == "drop_arm.right") {
			set = append(set, f.onePin(r.Setup.Unit, &m)...)
			continue
		}
		if m.Quantity != setup.OfLength && m.Quantity != setup.OfAngle || !moved[key] {
			continue
		}
		set = append(set, f.setting(r.Setup.Unit, &m, set)...)
	}
	return set
}

// onePin gives the one pin that takes both rods its figures, by the key that the file has for it.
func (f *reconcileFlags) onePin(u setup.Unit, m *setup.Measure) []string {
	switch {
	case !f.gives("drop_arm.pin"):
		return []string{m.Key + "=" + figuresOf(u, m)}
	case m.Key == "drop_arm.left":
		return []string{"drop_arm.pin=" + figuresOf(u, m)}
	}
	return nil
}

// setting gives a measure its figures. What the file gives for both at once, one pin or one length of both rods, makes room first.
func (f *reconcileFlags) setting(u setup.Unit, m *setup.Measure, before []string) (set []string) {
	for _, both := range [3][3]string{{"drop_arm.left", "drop_arm.right", "drop_arm.pin"}, {"tie_rod.left", "tie_rod.right", "tie_rod.length"}} {
		if m.Key == both[0] || m.Key == both[1] {
			if away := both[2] + "="; !slices.Contains(before, away) && f.gives(both[2]) {
				set = append(set, away)
			}
		}
	}
	return append(set, m.Key+"="+figuresOf(u, m))
}

// gives reports whether the file, with what is changed in it, gives a key: only then can it be taken away.
func (f *reconcileFlags) gives(key string) bool {
	_, err := f.source.with(key + "=").setup()
	return err == nil || !strings.Contains(err.Error(), "is not in the file")
}

// figuresOf writes what a measure holds, as the file would.
func figuresOf(u setup.Unit, m *setup.Measure) string {
	figure := func(v float64) string {
		if m.Quantity == setup.OfAngle {
			return export.Figure(math.Round(v*180/math.Pi*1e6) / 1e6)
		}
		return ofPlaces.of(u, v)
	}
	var points []string
	for point := range slices.Chunk(m.Figures, m.Point) {
		var one []string
		for _, v := range point {
			one = append(one, figure(*v))
		}
		text := strings.Join(one, ", ")
		if m.Point > 1 {
			text = "[" + text + "]"
		}
		points = append(points, text)
	}
	if m.List {
		return "[" + strings.Join(points, ", ") + "]"
	}
	return points[0]
}

// asReconciled reports whether a setup has the adjusted figures, as near as they are written.
func asReconciled(r *reconcile.Result, got *setup.Setup) bool {
	const same = 0.001 // mm; of angles less is written
	figures := map[string]float64{}
	for _, reading := range got.Readings() {
		figures[reading.Key] = *reading.Figures[0]
	}
	return !slices.ContainsFunc(r.Values, func(v reconcile.Value) bool {
		figure, ok := figures[v.Key]
		return !ok || math.Abs(figure-v.Adjusted) > same
	})
}
