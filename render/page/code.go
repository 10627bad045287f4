package page

import (
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
)

// alphabet has the digits of stored whole numbers: characters that neither HTML nor JSON has to escape. The middle one is
// nought. The first is no digit: it announces a number of longDigits digits.
const alphabet = "!#$%()*+,-./0123456789:;=?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]^_abcdefghijklmnopqrstuvwxyz{|}~"

const (
	base       = len(alphabet) - 1 // digits
	half       = (base - 1) / 2
	longDigits = 4
)

// encode writes whole numbers with a character for each of at most half either way, and more for the others.
func encode(b *strings.Builder, n int) {
	if n >= -half && n <= half {
		b.WriteByte(alphabet[1+half+n])
		return
	}
	limit := base * base * base * base / 2
	rest := max(-limit, min(limit-1, n)) + limit
	var digits [longDigits]byte
	for i := range digits {
		digits[longDigits-1-i] = alphabet[1+rest%base]
		rest /= base
	}
	b.WriteByte(alphabet[0])
	b.Write(digits[:])
}

// tenths is a length as whole tenths of a millimetre, the unit of what is drawn on the page.
func tenths(mm float64) int { return int(math.Round(10 * mm)) }

// course writes how coordinates run over poses, as seen on the page: after the first pose each is told by how much it
// departs from going on as before. Values are by pose and then by coordinate.
func course(values [][]int) string {
	var b strings.Builder
	for pose := range values {
		for i, v := range values[pose] {
			switch pose {
			case 0:
				encode(&b, v)
			case 1:
				encode(&b, v-values[0][i])
			default:
				encode(&b, v-2*values[pose-1][i]+values[pose-2][i])
			}
		}
	}
	return b.String()
}

// pathOf adds a closed outline to the data of a path, in tenths of a millimetre; what is too small to be seen is left out.
func pathOf(b *strings.Builder, ring []r2.Point) {
	begun, lastX, lastY := false, 0, 0
	for _, p := range ring {
		x, y := onPage(p)
		switch {
		case !begun:
			b.WriteByte('M')
			number(b, x, true)
			number(b, y, false)
			b.WriteByte('l')
		case x == lastX && y == lastY:
			continue
		default:
			number(b, x-lastX, strings.HasSuffix(b.String(), "l"))
			number(b, y-lastY, false)
		}
		begun, lastX, lastY = true, x, y
	}
	if begun {
		if s := b.String(); strings.HasSuffix(s, "l") { // a lone point
			b.WriteString("0 0")
		}
		b.WriteByte('z')
	}
}

// number adds a coordinate with what keeps it apart from the one before.
func number(b *strings.Builder, n int, first bool) {
	if n >= 0 && !first {
		b.WriteByte(' ')
	}
	b.WriteString(strconv.Itoa(n))
}
