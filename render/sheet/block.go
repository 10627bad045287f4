package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// Margins of the frame after ISO 5457: the left one leaves room for the holes of a folder.
const (
	marginLeft = 20.0
	margin     = 10.0
)

// Heights and widths of the title block, mm: after ISO 7200, reduced to what a garage needs.
const (
	mainRow    = 15.0 // title, scale, paper
	paperCell  = 40.0
	scaleCell  = 62.0
	noteIndent = 2.5
)

// noteLines breaks the caution into lines and gives their height: small letters, or fine ones where
// it would take more than two lines.
func (s *Sheet) noteLines() (lines []string, height float64) {
	width := s.frame.Size().X - 2*noteIndent
	if lines = Wrap(s.Title.Note, Small, width); len(lines) > 2 {
		return Wrap(s.Title.Note, Fine, width), Fine
	}
	return lines, Small
}

func (s *Sheet) blockHeight() float64 {
	lines, h := s.noteLines()
	if len(lines) == 0 {
		return mainRow
	}
	return mainRow + h*lineSpacing*float64(len(lines)) + 2
}

// drawBlock draws the frame and, along its lower edge, the title block.
func (s *Sheet) drawBlock() {
	f := s.frame
	top := s.area.Y.Hi
	s.line(Visible, f.X.Lo, top, f.X.Hi, top)
	cell := f.X.Hi - paperCell
	s.line(Thin, cell, top, cell, top+mainRow)
	s.drawOrigin(r2.Point{X: cell + noteIndent, Y: top})
	if s.Scale > 0 {
		cell -= scaleCell
		s.line(Thin, cell, top, cell, top+mainRow)
		s.write(r2.Point{X: cell + 2.5, Y: top + 4.6}, E, Style{Height: Medium}, "Scale "+s.Scale.String())
		s.scaleBar(r2.Point{X: cell + 3, Y: top + 12.4}, scaleCell-12, s.Scale, s.Inches)
	}
	width := cell - f.X.Lo - 2*noteIndent
	named, letters := inTwo(s.Title.Subtitle, width)
	rows := [2][3]float64{{5, 10.8}, {4.2, 9, 12.2}} // of the title and the lines below it, with one and with two of them
	if s.Title.Fellows != "" {
		rows = [2][3]float64{{3.6, 8.2}, {2.9, 6.3, 8.9}}
		fits := Style{Height: LettersFor(s.Title.Fellows, width, Small, Fine), Max: width}
		s.write(r2.Point{X: f.X.Lo + noteIndent, Y: top + 12.6}, E, fits, s.Title.Fellows)
	}
	at := rows[len(named)-1]
	s.write(r2.Point{X: f.X.Lo + noteIndent, Y: top + at[0]}, E, Style{Height: LettersFor(s.Title.Title, width, Medium, Small), Max: width}, s.Title.Title)
	for i, line := range named {
		s.write(r2.Point{X: f.X.Lo + noteIndent, Y: top + at[1+i]}, E, Style{Height: letters, Max: width}, line)
	}
	lines, h := s.noteLines()
	if len(lines) > 0 {
		s.line(Thin, f.X.Lo, top+mainRow, f.X.Hi, top+mainRow)
	}
	for i, line := range lines {
		y := top + mainRow + 1 + h*lineSpacing*(float64(i)+0.5)
		s.write(r2.Point{X: f.X.Lo + noteIndent, Y: y}, E, Style{Height: h}, line)
	}
	s.Polygon(border, NoFill, Corners(f)...)
}

// inTwo breaks a text that is wider than width in small letters into two lines of fine ones.
func inTwo(text string, width float64) (lines []string, height float64) {
	if TextWidth(text, Small) <= width {
		return []string{text}, Small
	}
	if lines = Wrap(text, Fine, width); len(lines) > 2 {
		lines = []string{lines[0], strings.Join(lines[1:], " ")}
	}
	return lines, Fine
}

// drawOrigin writes the paper, the program and the file one below the other in the block's last cell: a file's name that is
// wider than the cell in fine letters, its date on a line of its own.
func (s *Sheet) drawOrigin(corner r2.Point) {
	const width = paperCell - 2*noteIndent
	lines := []string{s.Size.Name, s.Title.Program}
	if source := Wrap(s.Title.Source, Fine, width); len(source) > 2 {
		lines = append(lines, Shorten(strings.Join(source[:len(source)-1], " "), Fine, width), source[len(source)-1])
	} else {
		lines = append(lines, source...)
	}
	const inset = 0.5
	row := (mainRow - 2*inset) / float64(len(lines))
	for i, line := range lines {
		style := Style{Height: Fine, Max: width}
		if len(lines) < 4 {
			style.Height = LettersFor(line, width, Small, Fine)
		}
		s.write(corner.Add(r2.Point{Y: inset + row*(float64(i)+0.5)}), E, style, line)
	}
}

// line draws a line of the frame or of the title block.
func (s *Sheet) line(pen Pen, x1, y1, x2, y2 float64) {
	s.strokePaper(pen, []r2.Point{{X: x1, Y: y1}, {X: x2, Y: y2}})
}

// Corners are a rectangle's as an outline.
func Corners(r r2.Rect) []r2.Point {
	v := r.Vertices()
	return v[:]
}

const (
	alarmInset = 3.0 // of the words from the sides of their box
	alarmAbove = 2.5 // and from its top
	alarmGap   = 2.0 // between boxes
	alarmEdge  = 2.0 // of the boxes from the frame
	alarmShare = 0.4 // of the room above the title block that alarms may take in letters of the usual height
)

// drawHead writes at the head of the sheet what must be known before anything else, and below it what is not sure, and takes the paper
// from the area.
func (s *Sheet) drawHead() {
	if len(s.Title.Alarms) == 0 && s.Title.Doubt == "" {
		return
	}
	room := s.area.ExpandedByMargin(-alarmEdge)
	s.drawAlarms(&room)
	if s.Title.Doubt != "" {
		s.headBox(&room, Visible, Style{Colour: Vermilion}, doubtMark+s.Title.Doubt)
	}
	s.area.Y.Lo = room.Y.Lo - alarmGap + alarmEdge
}

// drawAlarms writes alarms, each in a box of its own. Where that would leave too little for the drawing the letters are small, and
// then those that find no room are counted.
func (s *Sheet) drawAlarms(room *r2.Rect) {
	height := Medium
	if s.alarmsHeight(height) > alarmShare*room.Size().Y {
		height = Small
	}
	limit, list := room.Y.Lo+1.5*alarmShare*room.Size().Y, s.Title.Alarms
	for i := 0; i < len(list); i++ {
		if left := len(list) - i; i > 0 && left > 1 && room.Y.Lo > limit {
			list = append(list[:i:i], fmt.Sprintf("and %d more: see the report of sweep", left))
		}
		s.headBox(room, Wide, Style{Height: height, Colour: Vermilion}, alarmMark+list[i])
	}
}

// alarmsHeight is the paper that all alarms take in letters of a height, mm.
func (s *Sheet) alarmsHeight(height float64) (total float64) {
	for _, text := range s.Title.Alarms {
		total += ParagraphHeight(alarmMark+text, height, s.area.Size().X-2*alarmEdge-2*alarmInset) + alarmAbove + alarmGap
	}
	return total
}

const (
	alarmMark = "!!! "
	doubtMark = "! "
)

// headBox writes a text in a box at the head of a room and takes its paper from it.
func (s *Sheet) headBox(room *r2.Rect, pen Pen, style Style, text string) {
	at := r2.Point{X: room.X.Lo + alarmInset, Y: room.Y.Lo + alarmAbove}
	taken := s.Paragraph(at, room.Size().X-2*alarmInset, style, text)
	box := Rect(room.X.Lo, room.Y.Lo, room.Size().X, taken.Size().Y+alarmAbove)
	s.Polygon(pen.In(Vermilion), NoFill, Corners(box)...)
	room.Y.Lo = box.Y.Hi + alarmGap
}

const inch = 25.4

// scaleBar draws a divided bar of a round model length, at most width millimetres of paper long,
// its lower left end at a paper point, with its figures above.
func (s *Sheet) scaleBar(at r2.Point, width float64, scale Scale, inches bool) {
	unit, name := 1.0, "mm"
	if inches {
		unit, name = inch, "in"
	}
	if !finite(at, r2.Point{X: width}) || !(scale > 0) || !(width > 0) {
		return
	}
	length, parts := roundLength(width / float64(scale) / unit)
	step := length * unit * float64(scale) / float64(parts)
	const high = 1.4
	for i := range parts {
		fill := NoFill
		if i%2 == 0 {
			fill = Tinted(Black)
		}
		s.Polygon(Thin, fill, Corners(Rect(at.X+float64(i)*step, at.Y-high, step, high))...)
	}
	start, end := r2.Point{X: at.X, Y: at.Y - high - 0.8}, r2.Point{X: at.X + float64(parts)*step, Y: at.Y - high - 0.8}
	s.write(start, N, Style{Height: Fine}, "0")
	s.write(end, N, Style{Height: Fine}, strconv.FormatFloat(length, 'f', -1, 64)+" "+name)
}

// roundLength is the largest of 1, 2 and 5 times a power of ten that is at most most, and the
// number of equal parts in which it reads well.
func roundLength(most float64) (length float64, parts int) {
	ten := math.Pow(10, math.Floor(math.Log10(most)))
	for _, k := range []struct {
		times float64
		parts int
	}{{5, 5}, {2, 4}, {1, 5}} {
		if length = k.times * ten; length <= most*(1+1e-12) {
			return length, k.parts
		}
	}
	return length, 5
}

// CheckBars draws bars of 100 mm and 4 in both ways along the sheet, an angle whose corner is at a
// paper point, the arms to its right and above, each about 10 mm wide; every sheet at 1:1 carries
// them. Labels keep out.
func (s *Sheet) CheckBars(corner r2.Point) {
	if !finite(corner) {
		return
	}
	const depth = 10.0
	across := func(d, along float64) r2.Point { return corner.Add(r2.Point{X: depth + along, Y: -d}) }
	up := func(d, along float64) r2.Point { return corner.Add(r2.Point{X: d, Y: -depth - along}) }
	s.checkBar(across, 0)
	s.checkBar(up, 90*s1.Degree)
	s.Reserve(Rect(corner.X, corner.Y-depth, depth+4*inch+2, depth))
	s.Reserve(Rect(corner.X, corner.Y-depth-4*inch-2, depth, 4*inch+2))
}

// checkBar draws one pair of bars: at returns the paper point at a distance from the sheet's edge
// and a distance along the bar.
func (s *Sheet) checkBar(at func(d, along float64) r2.Point, turn s1.Angle) {
	const mid, far = 5.0, 1.0 // far is the side of the millimetres: above a level bar, to the right of an upright one
	bar := func(length, step, sign float64) {
		n := int(math.Round(length / step))
		for i := 0; i <= n; i++ {
			tick := 1.2
			if i == 0 || i == n {
				tick = 2.4
			}
			s.strokePaper(Thin, []r2.Point{at(mid+sign*0.4, float64(i)*step), at(mid+sign*(0.4+tick), float64(i)*step)})
		}
		s.strokePaper(Thin, []r2.Point{at(mid+sign*0.4, 0), at(mid+sign*0.4, length)})
	}
	bar(100, 10, far)
	bar(4*inch, inch/2, -far)
	style := Style{Turn: turn, Height: Fine, Halo: true}
	s.write(at(mid+far*3.2, 50), Over, style, "100 mm – print at 100 %, never “fit to page”")
	s.write(at(mid-far*3.2, 50.8), Over, style, "4 in – measure both bars before use")
}
