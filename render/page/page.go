// Package page makes the page: one HTML file that answers on a bench, on a phone and on paper, with the steering in motion
// from lock to lock. It loads nothing and sends nothing; nothing from a setup is taken for markup. What moves is posed by
// geometry/sweep and outlined by geometry/plan frame by frame, and every figure is worded by render/wording; the script
// only chooses the frame. Without a script the page is a report with three poses.
//
// Drawings on the page count in tenths of a millimetre, to the right and down: y of the vehicle turned round, then x.
package page

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"math"
	"sync"

	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/cores"
	"locksweep/geometry/loads"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/wording"
)

// Entry is one setup of a page.
type Entry struct {
	Result *sweep.Result
	Name   string // that tells it from the others
	Source *export.Source
	Sure   *tolerance.Result // how sure the figures are; nil where they are not to say
	Loads  *loads.Model      // what it has to bear; nil where the file gives no weight
}

// Alarms is what must be known of a setup before anything else, what gives way under its loads among it.
func (e *Entry) Alarms() []string {
	list := wording.Alarms(e.Result.Model, &e.Result.Locks)
	if e.Loads != nil {
		gives, _ := wording.Strained(e.Loads)
		list = append(list, gives...)
	}
	return list
}

// warnings is what else is to be looked at.
func (e *Entry) warnings() []string {
	list := report.LookAt(e.Result, e.Source.Warnings)
	if e.Loads != nil {
		_, thin := wording.Strained(e.Loads)
		list = append(list, thin...)
	}
	return list
}

// Section is a result of another command, as its report says it.
type Section struct {
	Title string
	Text  []byte
	Asked bool // for by name: it is unfolded, and so printed too
}

// Options is what a page shows besides its setups.
type Options struct {
	Compared *compare.Comparison // of several setups; nil for one
	Told     []byte              // the comparison, as its report says it
	Sections []Section           // of the first setup
	// Live is the version of a page that is served while its setup file is edited: it looks for news where it came from.
	// Empty: a page that stands alone.
	Live string
}

var (
	//go:embed page.html
	pageHTML string
	//go:embed waiting.html
	waitingHTML string
	//go:embed page.css
	pageCSS string
	//go:embed page.js
	pageJS string
	//go:embed live.js
	liveJS string
)

// Parsed when first filled in: other commands start without them.
var pageTemplate, waitingTemplate = parsed("page", &pageHTML), parsed("waiting", &waitingHTML)

func parsed(name string, text *string) func() *template.Template {
	return sync.OnceValue(func() *template.Template { return template.Must(template.New(name).Parse(*text)) })
}

// filledIn puts a view into a template.
func filledIn(with func() *template.Template, v *view) ([]byte, error) {
	var b bytes.Buffer
	err := with().Execute(&b, v)
	return b.Bytes(), err
}

// IsOurs reports whether the beginning of a file, a kilobyte or more, is that of a page made here.
func IsOurs(data []byte) bool {
	head := data[:min(len(data), 1024)]
	return bytes.HasPrefix(head, []byte("<!DOCTYPE html>")) && bytes.Contains(head, []byte(marker))
}

// marker stands at the head of every page.
const marker = `<meta name="generator" content="locksweep">`

// Step is the column step of the sweep that a page is made from.
const Step = 1 * s1.Degree

// The table of poses has one every tableStep of column, or coarser where that would make more than mostRows.
const (
	tableStep = 5 * s1.Degree
	mostRows  = 40
)

// Make makes the page of one setup, or of several laid over one another, the first in full.
func Make(entries []Entry, opt Options) ([]byte, error) {
	columns := timeline(results(entries...))
	v := view{Options: opt, Show: show{Alphabet: alphabet, Long: longDigits, Start: frameAt(columns, 0)}, Last: len(columns) - 1}
	for _, c := range columns {
		v.Show.Columns = append(v.Show.Columns, export.Rounded(c.Degrees()))
		v.Show.Said = append(v.Show.Said, wording.Way(c))
	}
	v.Several = len(entries) > 1
	v.Rows = comparedRows(opt.Compared, entries[0].Result.Setup.Unit)
	v.Setups = make([]setupView, len(entries))
	v.Show.Films = make([]reel, len(entries))
	failed := make([]error, len(entries))
	cores.Each(len(entries), func(i int) {
		f := newFilm(entries[i].Result, columns)
		figures := f.liveFigures()
		v.Show.Films[i] = f.reel(columns, figures)
		v.Setups[i], failed[i] = f.setupView(entries[i], figures, columns)
		v.Setups[i].Letter, v.Setups[i].Class = wording.Letter(i), fmt.Sprintf("s%d", i%mostStyles)
	}, nil)
	if err := cmp.Or(failed...); err != nil {
		return nil, err
	}
	v.First = &v.Setups[0]
	for i := range v.Setups {
		v.First.Near = v.First.Near.with(v.Setups[i].Near)
	}
	v.Style, v.Script, v.Policy = template.CSS(pageCSS), template.JS(pageJS), policy(pageJS)
	if opt.Live != "" {
		v.Script, v.Policy = template.JS(pageJS+liveJS), LivePolicy()
	}
	return filledIn(pageTemplate, &v)
}

// results returns the sweeps of entries.
func results(entries ...Entry) (list []*sweep.Result) {
	for i := range entries {
		list = append(list, entries[i].Result)
	}
	return list
}

// mostStyles is how many setups are told apart by their dashes and colours.
const mostStyles = 6

// policy is the Content-Security-Policy of a page: only its own style and scripts count, and nothing is loaded or sent.
func policy(scripts ...string) string {
	allowed := ""
	for _, script := range scripts {
		allowed += " '" + hash(script) + "'"
	}
	return "default-src 'none'; style-src '" + hash(pageCSS) + "'; script-src" + allowed + "; img-src data:; base-uri 'none'; form-action 'none'"
}

func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// view is what the template gets.
type view struct {
	Options
	Style   template.CSS
	Script  template.JS
	Policy  string
	Show    show
	Last    int // frame
	Several bool
	Setups  []setupView
	Rows    []comparedRow
	First   *setupView
}

// setupView is one setup for the template.
type setupView struct {
	*scene
	Letter, Class string
	Name, Title   string
	File          string
	With          []string // variant, settings and what [change] did
	Changes       []string // what [change] did
	Alarms        []string
	Answer        string
	Warned        string // how many warnings
	Warnings      []string
	Figures       []big
	Live          []liveFigure
	Ticks         []tick
	LockLeft      string // share of the bar at the left lock
	LockWide      string // and from there to the right one
	Plots         []plot
	Gaps          []report.Gap
	GapsWanted    string
	Poses         [][]string
	Assumed       []string
	Report        string
	Ends          [2]lockView
	Caution       string
}

// liveFigure is a figure beside the pose, straight ahead.
type liveFigure struct{ Key, Name, Value string }

// lockView is a pose at a lock in words.
type lockView struct{ Title, Said, Short string }

// setupView is what the template gets of a setup. The error is that of its outlines.
func (f *film) setupView(e Entry, figures []series, columns []s1.Angle) (v setupView, err error) {
	r := f.r
	v = setupView{
		Name: setup.Printable(e.Name), Title: setup.Printable(r.Setup.Name), File: setup.Printable(e.Source.File), Alarms: e.Alarms(), Answer: wording.Answer(r), Warnings: e.warnings(),
		Figures: bigFigures(r, e.Sure), Plots: plots(r), Assumed: wording.Assumed(r.Model), Caution: wording.Caution,
		Gaps: report.Gaps(r, wording.Known{}), GapsWanted: wording.Length(r.Setup.Unit, r.Setup.Limits.Clearance), Poses: poseCells(r),
	}
	v.Warned = wording.Counted(len(v.Warnings), "warning")
	if e.Source.Variant != "" {
		v.With = append(v.With, "with the variant "+setup.Printable(e.Source.Variant))
	}
	for _, set := range e.Source.Set {
		v.With = append(v.With, "with "+setup.Printable(set))
	}
	v.Changes = wording.Changes(r.Setup)
	v.With = append(v.With, v.Changes...)
	if v.scene, err = f.scene(); err != nil {
		return v, err
	}
	for i := range figures {
		v.Live = append(v.Live, liveFigure{figures[i].Key, wording.Capital(figures[i].Name), figures[i].texts[f.zero-f.first]})
	}
	v.Ticks = f.ticks(columns)
	v.LockLeft = share(f.locks[0], len(columns))
	v.LockWide = share(f.locks[1]-f.locks[0], len(columns))
	for _, d := range sweep.Directions {
		v.Ends[d] = lockView{"At the " + d.String() + " lock, steering wheel at " + wording.Angle(r.Locks[d].Column.Abs()), wording.Wheels(r, d) + "; " + wording.StoppedBy(r, d), wording.Way(r.Locks[d].Column)}
	}
	v.Report = string(report.Sweep(r, report.Options{Variant: e.Source.Variant, Set: e.Source.Set, Warnings: e.Source.Warnings, Rows: rows(r), Sure: e.Sure}))
	return v, nil
}

// Columns are the column angles of a setup's table of poses.
func Columns(r *sweep.Result) (columns []s1.Angle) {
	for _, row := range rows(r) {
		columns = append(columns, row.Column)
	}
	return columns
}

// poseCells are the figures of the table of poses.
func poseCells(r *sweep.Result) (list [][]string) {
	for _, row := range rows(r) {
		list = append(list, row.Cells(r, wording.Known{}))
	}
	return list
}

// rows are the poses of the table: whole steps, the locks and straight ahead.
func rows(r *sweep.Result) (list []report.Row) {
	step := tableStep
	for (r.Locks[sweep.ToLeft].Column-r.Locks[sweep.ToRight].Column)/step > mostRows {
		step *= 2
	}
	for i := range r.Poses {
		c := r.Poses[i].Column
		if steps := float64(c / step); i == 0 || i == len(r.Poses)-1 || math.Abs(steps-math.Round(steps)) < 1e-6 {
			list = append(list, report.Row{Column: c, Pose: &r.Poses[i]})
		}
	}
	return list
}

// Waiting is the page that stands in for a live one while there is none yet.
func Waiting() ([]byte, error) {
	return filledIn(waitingTemplate, &view{Style: template.CSS(pageCSS), Script: template.JS(liveJS)})
}

// LivePolicy is the Content-Security-Policy of live pages and of the one that waits: as that of a page that stands alone,
// but for news from where they came from.
func LivePolicy() string { return policy(pageJS+liveJS, liveJS) + "; connect-src 'self'" }
