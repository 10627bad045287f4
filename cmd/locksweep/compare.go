package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/pflag"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

var compareCommand = command{
	name: "compare", args: "SETUP [SETUP...]",
	brief:    "setups or variants side by side, turning and sliding",
	about:    "One file: as it stands and with each of its variants. Several: each as it is.",
	also:     []string{"until", "figure", "radius", "front-slip", "outer-weight", "slide-angle", "turn", "paper", "date", "embed", "force"},
	example:  "locksweep compare kart.toml\nlocksweep compare kart.toml --vary 'arm.pickup[1]=-20..-50/7'",
	prepare:  prepareCompare,
	searches: true,
}

type compareFlags struct {
	paths     []string
	variants  []string
	set       []string
	vary      []string
	until     string
	figures   []string
	slides    slideFlags
	json, csv bool
	target    target
	drawings  compareDrawings
	origin    source // of the drawings: the first file
}

func prepareCompare(flags *pflag.FlagSet) action {
	var f compareFlags
	flags.StringArrayVar(&f.variants, "variant", nil, "only this `VARIANT`; may be repeated")
	flags.StringArrayVar(&f.set, "set", nil, "all with `KEY=VALUE`; may be repeated")
	flags.StringArrayVar(&f.vary, "vary", nil, "N values of one `KEY=FROM..TO/N`; twice: a map")
	flags.StringVar(&f.until, "until", "", "with one --vary KEY=FROM..TO: where `FIGURE=VALUE`")
	flags.BoolVar(&f.json, "json", false, "everything as one JSON object, in full precision")
	flags.BoolVar(&f.csv, "csv", false, "the figures as CSV, in full precision")
	f.drawings.register(flags)
	f.origin.registerDate(flags)
	f.origin.registerEmbed(flags)
	flags.StringArrayVar(&f.figures, "figure", nil, "with --vary: only this `FIGURE`, by its key of --json; may be repeated")
	f.slides.register(flags)
	f.target.register(flags)
	return f.run
}

func (f *compareFlags) run(sh *shell, args []string) error {
	f.paths = args
	if f.json && f.csv {
		return errJSONAndCSV
	}
	drawings, err := f.drawings.drawings(f.axes())
	if err != nil {
		return err
	}
	opt, err := f.onPaper()
	if err != nil {
		return err
	}
	read := f.read
	switch {
	case f.until != "":
		read = f.readUntil
	case len(f.vary) > 0:
		read = f.readVaried
	}
	asked, err := read(sh)
	if err != nil {
		return err
	}
	asked.Changes = asked.changes()
	if asked.figures, err = f.figureKeys(len(asked.Axes)); err != nil {
		return err
	}
	sh.alarms(wording.ComparedAlarms(asked.Comparison, func(i int) string { return asked.Entries[i].Name }))
	undrawn, err := f.draw(asked, drawings, opt)
	if err != nil {
		return err
	}
	if err := f.target.stream(sh, f.paths[0], func(w io.Writer) error { return f.table(sh, asked, w) }); err != nil {
		return err
	}
	return cmp.Or(undrawn, asked.noneWorks(), asked.notMet())
}

// errJSONAndCSV refuses two forms at once.
var errJSONAndCSV = usagef("--json and --csv exclude each other; ask for one of them")

// draw writes drawings; one that cannot be made, undrawn, suppresses neither the others nor the table.
func (f *compareFlags) draw(asked *compared, drawings []compareDrawing, opt sheet.Options) (undrawn, err error) {
	for _, d := range drawings {
		if asked.Reference < 0 {
			break
		}
		drawn, err := d.draw(asked, opt)
		if err != nil {
			undrawn = cmp.Or[error](undrawn, noAnswer{err})
			continue
		}
		if err := writeFile(d.path, f.paths[0], f.origin.closed(drawn), f.target.force); err != nil {
			return undrawn, err
		}
	}
	return undrawn, nil
}

// onPaper says on what drawings go, and in their title block from which files they are made.
func (f *compareFlags) onPaper() (sheet.Options, error) {
	f.origin.path = f.paths[0]
	opt, err := f.origin.onPaper(f.drawings.paper)
	if more := len(f.paths) - 1; more > 0 {
		opt.Origin.Source += fmt.Sprintf(" and %d more", more)
	}
	return opt, err
}

// base is the one setup whose values are varied.
func (f *compareFlags) base(sh *shell) (source, error) {
	base := source{path: f.paths[0], opt: setupfile.Options{Set: f.set}}
	if len(f.variants) == 1 {
		base.opt.Variant = f.variants[0]
	}
	return base, base.fetch(sh)
}

// axes is how many keys are varied in what is shown: none where only a value of one is looked for.
func (f *compareFlags) axes() int {
	if f.until != "" {
		return 0
	}
	return len(f.vary)
}

// compared is what is compared, as other programs are told of it, and what else is shown of it.
type compared struct {
	export.Compared
	entries []compare.Entry // to be set side by side, one for each of the sources
	figures []string        // keys that are shown of what is varied
	title   string          // of the setup whose values are varied
}

// add takes one more entry and where it comes from.
func (asked *compared) add(src source, e compare.Entry) {
	asked.Sources, asked.entries = append(asked.Sources, *src.origin()), append(asked.entries, e)
}

// read reads every setup that is asked for and sets them side by side.
func (f *compareFlags) read(sh *shell) (*compared, error) {
	asked := &compared{}
	for _, path := range f.paths {
		if err := f.readFile(sh, path, asked); err != nil {
			return nil, err
		}
	}
	n := len(asked.entries)
	if n > mostCompared {
		return nil, usagef("compare would set %d setups side by side; at most %d are taken", n, mostCompared)
	}
	for _, name := range f.variants {
		if !slices.ContainsFunc(asked.Sources, func(s export.Source) bool { return s.Variant == name }) {
			return nil, f.unknownVariant(name, sh)
		}
	}
	if err := bounded(asked.entries, n, mostPoints); err != nil {
		return nil, err
	}
	asked.Unit = asked.entries[0].Setup.Unit
	distinguish(asked.entries, func(i int) string { return asked.Sources[i].File })
	return asked, f.sweep(asked)
}

// sweep sets the entries of what is asked for side by side.
func (f *compareFlags) sweep(asked *compared) error {
	path, err := f.slides.pathOf(asked.Unit, asked.entries)
	if err != nil {
		return err
	}
	told, done := progress("sweeping", fmt.Sprintf("of %d setups", len(asked.entries)))
	asked.Comparison = compare.Run(asked.entries, path, told)
	done()
	return nil
}

// mostCompared bounds how many setups are compared at once: a file as it stands with all the variants that it may have.
const mostCompared = setupfile.MostVariants + 1

// Bounds of points of outlines, which make the shapes that are kept of every setup: some 700 MB. Of setups that are varied none are.
const (
	mostPoints       = 300_000
	mostPointsVaried = 2_000_000
)

// bounded refuses so many setups, of which some are at hand, where their outlines would have more points than most.
func bounded(entries []compare.Entry, setups, most int) error {
	points := 0
	for i := range entries {
		if s := entries[i].Setup; s != nil {
			points += s.Points()
		}
	}
	if points = points / len(entries) * setups; points > most {
		return usagef("compare would set %d setups side by side whose outlines have some %d points together; at most %d are taken: compare fewer, or trace outlines with fewer points",
			setups, points, most)
	}
	return nil
}

// readFile reads a file as it stands, and with the variants that are wanted of it.
func (f *compareFlags) readFile(sh *shell, path string, asked *compared) error {
	src := source{path: path}
	if err := src.fetch(sh); err != nil {
		return err
	}
	add := func(variant string) (*setup.Setup, error) {
		src.opt = setupfile.Options{Variant: variant, Set: f.set, Known: variant != ""} // the file as it stands comes first
		s, warnings, err := setupfile.Read(nameOf(path), src.data, src.opt)
		if err != nil {
			return nil, err
		}
		called := s.Name
		if variant != "" {
			called = variant
		}
		for _, w := range warnings {
			sh.warn(called + ": " + w.String())
		}
		asked.add(src, compare.Entry{Name: called, Setup: s})
		return s, nil
	}
	base, err := add("")
	if err != nil {
		return err
	}
	for _, variant := range base.Variants {
		picked := slices.Contains(f.variants, variant)
		if picked || len(f.variants) == 0 && len(f.paths) == 1 {
			if _, err := add(variant); err != nil {
				return err
			}
		}
	}
	return nil
}

// unknownVariant says that no file has a variant of that name, as the reader does.
func (f *compareFlags) unknownVariant(name string, sh *shell) error {
	if len(f.paths) == 1 && f.paths[0] != "-" {
		source := source{path: f.paths[0], opt: setupfile.Options{Variant: name}}
		if _, err := source.read(sh); err != nil {
			return err
		}
	}
	return usagef("--variant %s: none of the files has a variant of that name", name)
}

// distinguish puts the name of the entry's file behind names that stand for more than one setup.
func distinguish(entries []compare.Entry, file func(i int) string) {
	count := map[string]int{}
	for i := range entries {
		count[entries[i].Name]++
	}
	for i := range entries {
		if count[entries[i].Name] > 1 {
			entries[i].Name += " (" + file(i) + ")"
		}
	}
}

// table writes the comparison in the form asked for.
func (f *compareFlags) table(sh *shell, asked *compared, w io.Writer) error {
	if f.json {
		return asked.WriteJSON(w)
	}
	_, err := w.Write(f.text(sh, asked))
	return err
}

// text is the comparison as CSV or as a table.
func (f *compareFlags) text(sh *shell, asked *compared) []byte {
	if f.csv {
		return asked.CSV()
	}
	opt := report.CompareOptions{Unit: asked.Unit, Changes: asked.Changes, Colour: f.target.colour(sh)}
	if len(asked.Axes) > 0 {
		return report.Varied(asked.Comparison, asked.Axes, asked.figures, opt)
	}
	if asked.Until != nil {
		opt.Sought = asked.sought()
	}
	return report.Compare(asked.Comparison, opt)
}

// changes says, by entry, what sets it apart from the first.
func (asked *compared) changes() [][]string {
	said := make([][]string, len(asked.Entries))
	for i := range asked.Entries {
		s := asked.Entries[i].Setup
		if s == nil || len(asked.Axes) > 0 {
			continue
		}
		said[i] = wording.Changes(s)
		if i > 0 {
			said[i] = append(said[i], wording.Differences(asked.Unit, &asked.Entries[0], &asked.Entries[i])...)
		}
	}
	return said
}

// noneWorks is the error where not one of the setups can be swept: with one that can there is an answer.
func (asked *compared) noneWorks() error {
	if asked.Reference >= 0 {
		return nil
	}
	first := &asked.Entries[0]
	return noAnswer{fmt.Errorf("none of the setups can be compared; %s: %w", setup.Printable(first.Name), wording.Error(first.Err))}
}

// notMet is the error where what --until wants is not to be had.
func (asked *compared) notMet() error {
	if asked.Until == nil || len(asked.Until.Found.Met) > 0 {
		return nil
	}
	return noAnswer{errors.New(asked.sought()[0])}
}
