//go:build browser

package browser

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// printed is what stands on the first page of a PDF, in millimetres, y down.
type printed struct {
	pages         int
	width, height float64
	lines         []line
}

// millimetresPerPoint: a PDF counts in points, 72 to the inch.
const millimetresPerPoint = 25.4 / 72

// read takes a PDF apart with poppler, which has no part in making it.
func read(t *testing.T, pdf []byte) (p printed) {
	t.Helper()
	folder := t.TempDir()
	file, drawing := filepath.Join(folder, "print.pdf"), filepath.Join(folder, "print.svg")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	info, err := exec.Command("pdfinfo", file).Output()
	if err != nil {
		t.Fatalf("pdfinfo: %v", err)
	}
	for row := range strings.Lines(string(info)) {
		if count, found := strings.CutPrefix(row, "Pages:"); found {
			p.pages, _ = strconv.Atoi(strings.TrimSpace(count))
		}
	}
	if out, err := exec.Command("pdftocairo", "-svg", "-f", "1", "-l", "1", file, drawing).CombinedOutput(); err != nil {
		t.Fatalf("pdftocairo: %v\n%s", err, out)
	}
	svg, err := os.Open(drawing)
	if err != nil {
		t.Fatal(err)
	}
	defer svg.Close()
	if err := p.elements(xml.NewDecoder(svg)); err != nil {
		t.Fatalf("what pdftocairo wrote cannot be read: %v", err)
	}
	return p
}

// elements walks the page as an SVG file, keeping the product of the transforms on the way down.
func (p *printed) elements(d *xml.Decoder) error {
	stack := []matrix{{1, 0, 0, 1, 0, 0}}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		switch e := token.(type) {
		case xml.StartElement:
			m := stack[len(stack)-1]
			if own, found := attribute(e, "transform"); found {
				n := numbers(own)
				if !strings.HasPrefix(own, "matrix(") || len(n) != 6 {
					return fmt.Errorf("transform %q: only matrix(…) of six numbers is known here", own)
				}
				m = m.after(matrix(n))
			}
			stack = append(stack, m)
			if err := p.element(e, m); err != nil {
				return err
			}
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		}
	}
}

func (p *printed) element(e xml.StartElement, m matrix) error {
	switch e.Name.Local {
	case "svg":
		for name, to := range map[string]*float64{"width": &p.width, "height": &p.height} {
			text, _ := attribute(e, name)
			points, err := strconv.ParseFloat(strings.TrimSuffix(text, "pt"), 64)
			if err != nil {
				return err
			}
			*to = points * millimetresPerPoint
		}
	case "path":
		if !stroked(e) {
			return nil
		}
		d, _ := attribute(e, "d")
		if n := numbers(d); len(n) == 4 && !strings.ContainsAny(d, "CcZz") {
			p.lines = append(p.lines, line{m.point(n[0], n[1]), m.point(n[2], n[3])})
		}
	}
	return nil
}

// stroked reports whether a path is a line; versions of pdftocairo say it in different ways.
func stroked(e xml.StartElement) bool {
	stroke, found := attribute(e, "stroke")
	style, _ := attribute(e, "style")
	return found && stroke != "none" || strings.Contains(style, "stroke:") && !strings.Contains(style, "stroke:none")
}

func attribute(e xml.StartElement, name string) (value string, found bool) {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value, true
		}
	}
	return "", false
}

// matrix is a plane transform as SVG writes it: x' = a·x + c·y + e, y' = b·x + d·y + f.
type matrix [6]float64

func (m matrix) after(n matrix) matrix {
	return matrix{
		m[0]*n[0] + m[2]*n[1], m[1]*n[0] + m[3]*n[1],
		m[0]*n[2] + m[2]*n[3], m[1]*n[2] + m[3]*n[3],
		m[0]*n[4] + m[2]*n[5] + m[4], m[1]*n[4] + m[3]*n[5] + m[5],
	}
}

// point returns where a point lands, mm.
func (m matrix) point(x, y float64) [2]float64 {
	return [2]float64{
		(m[0]*x + m[2]*y + m[4]) * millimetresPerPoint,
		(m[1]*x + m[3]*y + m[5]) * millimetresPerPoint,
	}
}

// numbers returns the numbers in a text, whatever stands between them.
func numbers(text string) (list []float64) {
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789.+-", r) }) {
		if x, err := strconv.ParseFloat(word, 64); err == nil {
			list = append(list, x)
		}
	}
	return list
}
