// Package sheet answers what a drawing looks like on paper: the sheet and its scale, pens,
// lettering, dimensions, and where a label finds room. It knows nothing of what is drawn.
//
// Paper is measured in true millimetres from the upper left corner of the sheet, x to the right, y
// down. What is drawn through a Panel is given in the millimetres of the model; its View says how
// these lie on paper. A Sheet is itself a panel whose model is the paper. The result is an SVG file
// whose bytes depend on nothing but the calls made.
package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"hash/fnv"
	"io"
	"path/filepath"
	"slices"
	"strings"

	svg "github.com/ajstarks/svgo/float"
	"github.com/golang/geo/r2"
)

// Marker stands in every drawing of ours, so that it may be overwritten by the next.
const Marker = "locksweep drawing 1"

const markerElement = "<metadata>" + Marker + "</metadata>"

// IsOurs reports whether data is a drawing that this package made.
func IsOurs(data []byte) bool {
	head := data[:min(len(data), 1024)]
	return bytes.Contains(head, []byte("<svg")) && bytes.Contains(head, []byte(markerElement))
}

// Title is what the title block says. Every text may come from outside.
type Title struct {
	Title    string   // what is drawn
	Subtitle string   // of what: the setup's name
	Note     string   // the caution, printed in full
	Origin            // what made the drawing, and from what
	Fellows  string   // which sheet of how many this is, with the others' files; may be given until Bytes
	Desc     string   // the drawing in words, for who cannot see it
	Alarms   []string // what must be known before anything else: it stands at the head of the sheet and of Desc
}

// Origin is what made a drawing, from what, and what of that is not sure.
type Origin struct {
	Program string // with its version where that was asked for
	Source  string // the file, with its date where that was asked for; empty for standard input
	Doubt   string // a line that stands at the head of the sheet below the alarms, and in Desc; empty for none
}

// Options says what a drawing is drawn on, and what made it.
type Options struct {
	Paper  Size
	Origin Origin
}

// Sheet is a drawing in the making. Draw on it, or on panels of it, in any order; Bytes ends it.
type Sheet struct {
	Panel  // the whole sheet, in paper millimetres
	Size   Size
	Title  Title
	Scale  Scale // printed in the title block with its bar; 0: not to scale
	Inches bool  // the scale bar is divided in inches
	Strict bool  // no label and no dimension's figure may touch a line: for sheets to work by

	body   bytes.Buffer
	shapes *svg.SVG // writes body
	paints []paint  // what its shapes and texts look like, each once
	moves  []moving // what moves
	texts  []text   // written last, above all shapes
	frame  r2.Rect
	area   r2.Rect

	boxes      []Box     // every text placed
	taken      []kept    // the same, and where labels must not stand
	lettered   []kept    // every text with a little paper round it, which no leader may cross
	ink        inked     // every line drawn, which labels had better not cross
	leaders    []segment // lines that no text may cross
	extensions []segment // lines of dimensions that leaders had better not cross
	marked     []disc    // points with a number of their own, which other labels had better keep off
	waiting    []placing // labels still to be placed
	unplaced   []string
	finished   bool
}

type segment struct{ a, b r2.Point }

type disc struct {
	at     r2.Point
	radius float64
}

// New begins a drawing. Area tells where there is room for it.
func New(size Size, title Title) *Sheet {
	s := &Sheet{Size: size, Title: title}
	s.within(Rect(marginLeft, margin, size.Width-marginLeft-margin, size.Height-2*margin))
	s.area.Y.Hi -= s.blockHeight()
	s.drawHead()
	return s
}

// Plain begins a drawing of its own size without frame and title block, to be shown in part on others: see Inset.
func Plain(width, height float64) *Sheet {
	s := &Sheet{Size: Size{Width: width, Height: height}, finished: true}
	s.within(Rect(0, 0, width, height))
	return s
}

// within makes a sheet ready to be drawn on inside a frame.
func (s *Sheet) within(frame r2.Rect) {
	s.shapes, s.frame, s.area = canvas(&s.body), frame, frame
	s.Panel = Panel{sheet: s, Rect: frame, View: paperView}
}

// canvas writes elements with as many decimals as a drawing has.
func canvas(to io.Writer) *svg.SVG {
	c := svg.New(to)
	c.Decimals = decimals
	return c
}

// Frame is the rectangle inside which everything stands.
func (s *Sheet) Frame() r2.Rect { return s.frame }

// Area is the free rectangle inside the frame, above the title block. Keep a few millimetres off
// its edges.
func (s *Sheet) Area() r2.Rect { return s.area }

// NewPanel opens a rectangle of the sheet with a view of its own. Shapes are clipped to the
// rectangle and to the frame; dimensions and labels may stand outside the rectangle.
func (s *Sheet) NewPanel(rect r2.Rect, view View) *Panel {
	return &Panel{sheet: s, Rect: rect.Intersection(s.frame), View: view}
}

// Reserve keeps labels out of a rectangle of paper.
func (s *Sheet) Reserve(rect r2.Rect) { s.taken = append(s.taken, keep(rectBox(rect))) }

// Texts returns the box of every text on the sheet, in the order in which they were placed. It ends
// the drawing as Bytes does.
func (s *Sheet) Texts() []Box {
	s.finish()
	return s.boxes
}

// Overlaps returns the pairs of texts that overlap; a good sheet has none. It ends the drawing as Bytes does.
func (s *Sheet) Overlaps() [][2]Box {
	var pairs [][2]Box
	for i, a := range s.Texts() {
		for _, b := range s.boxes[:i] {
			if a.overlaps(b) {
				pairs = append(pairs, [2]Box{b, a})
			}
		}
	}
	return pairs
}

// Unplaced places the labels that still wait and returns the lines of all for which there was no room anywhere. The
// description of the drawing names these too, so that nothing is lost without a word. The drawing may go on.
func (s *Sheet) Unplaced() []string {
	s.unplaced = append(s.unplaced, s.Settle()...)
	return s.unplaced
}

// Bytes ends the drawing and returns the SVG file, in true millimetres. It tells the printer the size of the page.
func (s *Sheet) Bytes() []byte { return s.document(false) }

// Embed ends the drawing and returns the svg element alone, to stand in a page beside others: as wide as what it stands
// in, without page rules, its names and classes its own. A page that is to be printed true has to set the
// width itself.
func (s *Sheet) Embed() []byte {
	data := s.document(true)
	return data[bytes.Index(data, []byte("<svg")):]
}

// document ends the drawing and puts the file together; embedded, its style holds for itself alone.
func (s *Sheet) document(embedded bool) []byte {
	s.finish()
	var texts, out bytes.Buffer
	s.writeTexts(canvas(&texts))
	drawn, id := canvas(&out), s.id()
	width, height := number(s.Size.Width), number(s.Size.Height)
	box, labelled := fmt.Sprintf(`viewBox="0 0 %s %s"`, width, height), fmt.Sprintf(`role="img" aria-labelledby="%s-title %s-desc"`, id, id)
	within, page := "", fmt.Sprintf("@page{size:%smm %smm;margin:0}", width, height)
	if embedded {
		within, page = "#"+id+" ", ""
		drawn.Startraw(box, labelled, `id="`+id+`" width="100%"`)
	} else {
		drawn.Startunit(s.Size.Width, s.Size.Height, "mm", box, labelled)
	}
	fmt.Fprintln(&out, markerElement)
	fmt.Fprintf(&out, "<title id=\"%s-title\">%s</title>\n", id, escaped(s.heading()))
	fmt.Fprintf(&out, "<desc id=\"%s-desc\">%s</desc>\n", id, escaped(s.description()))
	fmt.Fprintf(&out, "<style>%s%s</style>\n", page, s.rules(within)+s.motions(within))
	drawn.Rect(0, 0, s.Size.Width, s.Size.Height, `fill="#FFFFFF"`)
	drawn.Group(`fill="none" fill-rule="evenodd" stroke-linejoin="round"`)
	out.Write(s.body.Bytes())
	drawn.Gend()
	drawn.Group(fmt.Sprintf(`font-family="%s"`, family))
	out.Write(texts.Bytes())
	drawn.Gend()
	drawn.End()
	return out.Bytes()
}

// decimals of a millimetre in a drawing: a printer of 600 dots to the inch sets them four times as far apart.
const decimals = 2

// id is what this drawing's names begin with, so that they are not those of another on the same page; equal drawings have the same.
func (s *Sheet) id() string {
	h := fnv.New32a()
	h.Write([]byte(s.heading() + "\x00" + s.description()))
	h.Write(s.body.Bytes())
	for _, t := range s.texts {
		h.Write([]byte(t.line))
	}
	return fmt.Sprintf("d%08x", h.Sum32())
}

func (s *Sheet) heading() string {
	return strings.Trim(Clean(s.Title.Title)+" – "+Clean(s.Title.Subtitle), " –")
}

func (s *Sheet) description() string {
	said := slices.Clone(s.Title.Alarms)
	if s.Title.Doubt != "" {
		said = append(said, s.Title.Doubt)
	}
	desc := Clean(strings.Join(append(said, s.Title.Desc), ". "))
	if s.Title.Fellows != "" {
		desc += " " + Clean(s.Title.Fellows) + "."
	}
	if s.Scale > 0 {
		desc += fmt.Sprintf(" Scale %s on %s.", s.Scale, s.Size.Name)
	}
	if len(s.unplaced) > 0 {
		desc += " No room for: " + strings.Join(s.unplaced, "; ") + "."
	}
	return strings.TrimSpace(desc)
}

// finish draws the frame and places the labels that still wait, so that they see all else.
func (s *Sheet) finish() {
	if !s.finished {
		s.finished = true
		s.drawBlock()
	}
	s.unplaced = append(s.unplaced, s.Settle()...)
}

func escaped(text string) string {
	var b bytes.Buffer
	// EscapeText fails only if its writer does, and a buffer does not.
	_ = xml.EscapeText(&b, []byte(text))
	return b.String()
}

// FileName is the name of the i-th sheet, from 0, of those that belong together and go to a file: kart.svg, kart-2.svg, kart-3.svg.
func FileName(path string, i int) string {
	if i == 0 {
		return path
	}
	ext := filepath.Ext(path)
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(path, ext), i+1, ext)
}

// Closed ends sheets that belong together, each of which names its fellows; path is where the first goes.
func Closed(sheets []*Sheet, path string) (data [][]byte) {
	for i, s := range sheets {
		if len(sheets) > 1 {
			s.Title.Fellows = fellows(i, len(sheets), filepath.Base(path))
		}
		data = append(data, s.Bytes())
	}
	return data
}

// fellows says which sheet of how many this is, and in which files they are: the first by its name, the others by what
// theirs has more.
func fellows(i, of int, path string) string {
	said := fmt.Sprintf("Sheet %d of %d", i+1, of)
	if path == "" || path == "." {
		return said
	}
	said += ": " + path
	for k := 2; k <= of; k++ {
		said += fmt.Sprintf(", \u2010%d", k) // a hyphen that no one takes for a minus
	}
	return said
}
