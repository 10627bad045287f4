package sheet

import (
	"fmt"
	"math"
)

// Colour is 0xRRGGBB. The zero Colour is black.
type Colour uint32

// The palette of Okabe and Ito, told apart by colour-blind readers, and greys.
const (
	Black     Colour = 0x000000
	Blue      Colour = 0x0072B2
	Vermilion Colour = 0xD55E00
	Green     Colour = 0x009E73
	Purple    Colour = 0xCC79A7
	Orange    Colour = 0xE69F00
	Grey      Colour = 0x8C8C8C
	PaleGrey  Colour = 0xE6E6E6
	White     Colour = 0xFFFFFF
)

func (c Colour) String() string { return fmt.Sprintf("#%06X", uint32(c)&0xFFFFFF) }

// contrast is the contrast ratio of two colours, 1 to 21, after WCAG 2.
func contrast(a, b Colour) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// luminance is the relative luminance of an sRGB colour, 0 to 1 (WCAG 2).
func luminance(c Colour) float64 {
	linear := func(v Colour) float64 {
		x := float64(v&0xFF) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c>>16) + 0.7152*linear(c>>8) + 0.0722*linear(c)
}

// forLine and forText darken a colour until it stands 3:1, or 4.5:1, against white paper.
func (c Colour) forLine() Colour { return c.darkened(3) }
func (c Colour) forText() Colour { return c.darkened(4.5) }

func (c Colour) darkened(least float64) Colour {
	dark := c
	for t := 0.0; t < 1 && contrast(dark, White) < least; t += 0.02 {
		dark = mix(c, Black, t)
	}
	return dark
}

// Light is the colour as a tint: ink and letters of any colour can be read on it.
func (c Colour) Light() Colour { return mix(c, White, 0.78) }

// mix goes from a to b as t goes from 0 to 1.
func mix(a, b Colour, t float64) Colour {
	var out Colour
	for shift := 0; shift <= 16; shift += 8 {
		x, y := float64(a>>shift&0xFF), float64(b>>shift&0xFF)
		out |= Colour(math.Round(x+(y-x)*t)) << shift
	}
	return out
}
