package sheet

import (
	"fmt"
	"path/filepath"
	"strings"
)

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
	for k := 1; k < of; k++ {
		said += fmt.Sprintf(", \u2010%d", k+1) // a hyphen that no one takes for a minus
	}
	return said
}
