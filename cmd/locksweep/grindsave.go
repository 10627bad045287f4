package main

import (
	"errors"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
)

// save writes the setup with the finished outlines as one more variant, where that is asked for.
func (f *grindFlags) save(sh *shell, plan *grind.Plan) error {
	if f.saving.path == "" {
		return nil
	}
	set, ok := f.settings(plan)
	if !ok {
		return noAnswer{f.source.about(errors.New("--save: the file has one outline for both sides of a part, and these cuts differ from left to right: " +
			"give the part twice, with side = \"left\" and side = \"right\""))}
	}
	return f.saving.write(sh, &f.source, "ground", set, f.target.force)
}

// settings returns what --set takes to get the finished outlines; ok is false where the form of the file does not allow it.
func (f *grindFlags) settings(plan *grind.Plan) (set []string, ok bool) {
	set = groundSettings(plan)
	got, err := f.source.with(set...).setup()
	return set, err == nil && sameOutlines(plan.After.Setup, got)
}

// groundSettings gives the finished outlines to their parts, as --set takes them: what [change] hangs anew as it hangs before that.
func groundSettings(plan *grind.Plan) (set []string) {
	hung, said := plan.After.Setup.AsHung(), map[string]bool{}
	for _, c := range plan.Cuts {
		name, outline := c.Part.Name, c.After
		if i := slices.IndexFunc(hung.Parts, func(p setup.Part) bool { return p.Name == name }); i >= 0 && c.Part.On != setup.OnFrame {
			outline = hung.Parts[i].Plate.Outline
		}
		if !said[name] {
			set = append(set, outlineSetting(hung.Unit, "part."+setup.QuoteKey(name)+".plate.outline", outline))
		}
		said[name] = true
	}
	return set
}

// sameOutlines reports whether every plate of one setup is as large in the other, to a hundredth of a millimetre at its corners.
func sameOutlines(a, b *setup.Setup) bool {
	const same = 0.01
	for _, p := range a.Parts {
		i := slices.IndexFunc(b.Parts, func(o setup.Part) bool {
			return o.Name == p.Name && (!p.Sides[0] || o.Sides[0]) && (!p.Sides[1] || o.Sides[1])
		})
		if i < 0 || (p.Plate == nil) != (b.Parts[i].Plate == nil) {
			return false
		}
		if p.Plate != nil && !slices.EqualFunc(p.Plate.Outline, b.Parts[i].Plate.Outline, func(p, q r2.Point) bool { return p.Sub(q).Norm() <= same }) {
			return false
		}
	}
	return true
}
