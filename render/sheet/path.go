package sheet

import (
	"math"
	"strconv"

	"github.com/golang/geo/r2"
)

// straying is how far a line as it is written may run beside the line as it was drawn, mm of paper, before it is
// rounded to hundredths: less than a tenth of the thinnest pen.
const straying = 0.01

// hundredths is a paper length as it is written.
func hundredths(mm float64) int { return int(math.Round(mm*100 + math.Copysign(1e-5, mm))) }

// written is a paper length as it is written, for a writer that rounds by itself and would leave what lies in the middle to chance.
func written(mm float64) float64 { return float64(hundredths(mm)) / 100 }

// appendPath writes a line on paper: where it begins, then the way from each point to the next, in hundredths of a
// millimetre, so that roundings do not add up.
func appendPath(data []byte, pts []r2.Point, closed bool) []byte {
	x, y, first := 0, 0, true
	for i, p := range pts {
		toX, toY := hundredths(p.X), hundredths(p.Y)
		switch {
		case i == 0:
			data = appendPair(append(data, 'M'), toX, toY)
		case toX == x && toY == y && len(pts) > 2:
			continue
		default:
			if first {
				data, first = append(data, 'l'), false
			} else if toX >= x {
				data = append(data, ' ')
			}
			data = appendPair(data, toX-x, toY-y)
		}
		x, y = toX, toY
	}
	if closed {
		data = append(data, 'z')
	}
	return data
}

func pathData(pts []r2.Point, closed bool) string { return string(appendPath(nil, pts, closed)) }

// appendPair writes two numbers; a minus sign parts them as well as a space does.
func appendPair(data []byte, x, y int) []byte {
	data = appendHundredths(data, x)
	if y >= 0 {
		data = append(data, ' ')
	}
	return appendHundredths(data, y)
}

// appendHundredths writes a number of hundredths in millimetres without needless noughts: -1234 as -12.34, 50 as .5.
func appendHundredths(data []byte, n int) []byte {
	if n < 0 {
		data, n = append(data, '-'), -n
	}
	whole, part := n/100, n%100
	if whole > 0 || part == 0 {
		data = strconv.AppendInt(data, int64(whole), 10)
	}
	if part == 0 {
		return data
	}
	data = append(data, '.', byte('0'+part/10))
	if part%10 > 0 {
		data = append(data, byte('0'+part%10))
	}
	return data
}
