package template

import (
	"fmt"
	"path/filepath"
	"strings"

	"locksweep/render/sheet"
)

// FileName is the name of the i-th sheet, from 0, of a template that goes to a file: kart.svg, kart-2.svg, kart-3.svg.
func FileName(path string, i int) string {
	if i == 0 {
		return path
	}
	ext := filepath.Ext(path)
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(path, ext), i+1, ext)
}

// closed ends the sheets of a template, each of which names its fellows; path is where the first goes.
func closed(sheets []*sheet.Sheet, path string) (data [][]byte) {
	for i, s := range sheets {
		if len(sheets) > 1 {
			s.Title.Fellows = fellows(i, len(sheets), filepath.Base(path))
		}
		data = append(data, s.Bytes())
	}
	return data
}

// mostFellows is how many are named.
const mostFellows = 3

// fellows says which sheet of how many this is, and what the others are called.
func fellows(i, of int, path string) string {
	var names []string
	for k := range of {
		if k != i && path != "" && path != "." {
			names = append(names, FileName(path, k))
		}
	}
	said := fmt.Sprintf("Sheet %d of %d", i+1, of)
	if more := len(names) - mostFellows; more > 0 {
		names = append(names[:mostFellows], fmt.Sprintf("%d more", more))
	}
	if len(names) > 0 {
		said += "; with " + strings.Join(names, ", ")
	}
	return said
}
