package sheet

import (
	"fmt"

	"github.com/golang/geo/r2"
)

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
