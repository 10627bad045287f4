package page

import (
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
)

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
