//go:build browser

package browser

import (
	"context"
	_ "embed"
	"fmt"
	"iter"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// chrome is the one browser of a test run; every test opens tabs of its own in it.
var chrome context.Context

// workshop is a folder for the whole run, with the program in it.
var workshop string

// program is the path of the program, built once.
func program(t *testing.T) string {
	t.Helper()
	path, err := built()
	if err != nil {
		t.Fatal(err)
	}
	return path
}

var built = sync.OnceValues(func() (string, error) {
	path := filepath.Join(workshop, "locksweep")
	out, err := exec.Command("go", "build", "-o", path, "locksweep/cmd/locksweep").CombinedOutput()
	if err != nil {
		err = fmt.Errorf("the program does not build: %w\n%s", err, out)
	}
	return path, err
})

func TestMain(m *testing.M) {
	var err error
	if workshop, err = os.MkdirTemp("", "locksweep-browser-"); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath("chromium"),
		chromedp.Flag("no-sandbox", true), // a container's root has no other way
		chromedp.Flag("disable-gpu", true),
		chromedp.Flag("disable-component-update", true),
	)
	allocator, stopAllocator := chromedp.NewExecAllocator(context.Background(), options...)
	var stop context.CancelFunc
	chrome, stop = chromedp.NewContext(allocator)
	code := 1
	if err = chromedp.Do(chrome); err != nil {
		fmt.Fprintln(os.Stderr, "chromium does not start:", err)
	} else {
		code = m.Run()
	}
	stop()
	stopAllocator()
	os.RemoveAll(workshop)
	os.Exit(code)
}

// tab is an open drawing or page.
type tab struct {
	ctx      context.Context
	messages iter.Seq2[chromedp.ConsoleMessage, error]
}

// open opens a file in a tab of its own.
func open(t *testing.T, file string) tab {
	t.Helper()
	path, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	page := newTab(t)
	if err := chromedp.Do(page.ctx, chromedp.Navigate("file://"+path)); err != nil {
		t.Fatalf("%s does not open: %v", file, err)
	}
	return page
}

// newTab opens an empty tab.
func newTab(t *testing.T) tab {
	t.Helper()
	ctx, closeTab := chromedp.NewContext(chrome)
	t.Cleanup(closeTab)
	if err := chromedp.Do(ctx); err != nil { // a time limit here would end the whole browser
		t.Fatalf("no tab opens: %v", err)
	}
	ctx, stop := context.WithTimeout(ctx, 3*time.Minute)
	t.Cleanup(stop)
	return tab{ctx, chromedp.Console(ctx)}
}

// complaints ends the tab's console and returns every warning, error and exception in it.
func (page tab) complaints(t *testing.T) (list []string) {
	t.Helper()
	const end = "end of console"
	if err := chromedp.Do(page.ctx, chromedp.Evaluate[chromedp.Void](`console.log("`+end+`")`)); err != nil {
		t.Fatal(err)
	}
	for m, err := range page.messages {
		switch {
		case err != nil:
			t.Fatalf("the console breaks off: %v", err)
		case m.Text == end:
			return list
		case m.IsException() || m.Type == "error" || m.Type == "warning":
			list = append(list, m.String())
		}
	}
	t.Fatal("the console breaks off")
	return nil
}

// look is what the browser measures of a drawing, in millimetres of paper, y down.
type look struct {
	Root    string    `json:"root"` // name of the root element: html where the file is no SVG
	Broken  bool      `json:"broken"`
	Width   float64   `json:"width"` // of the sheet
	Height  float64   `json:"height"`
	Texts   []letters `json:"texts"`
	Lines   []line    `json:"lines"`   // straight undashed lines of one stretch
	Scripts int       `json:"scripts"` // and foreign elements

	Title       string `json:"title"` // what a screen reader says
	Description string `json:"description"`
}

// letters is one text element: the four corners of its letters, from ascent to descent.
type letters struct {
	Text    string        `json:"text"`
	Corners [4][2]float64 `json:"corners"`
}

// line is a straight line on paper.
type line [2][2]float64

//go:embed look.js
var lookScript string

// measure asks the browser what it sees.
func (page tab) measure(t *testing.T) look {
	t.Helper()
	l, err := chromedp.Run(page.ctx, chromedp.Evaluate[look](lookScript))
	if err != nil {
		t.Fatalf("the browser cannot measure the drawing: %v", err)
	}
	return l
}

// print makes the PDF that a reader's browser prints on the page that the drawing itself asks for.
func (page tab) print(t *testing.T) []byte {
	t.Helper()
	pdf, err := chromedp.Run(page.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize(), chromedp.PDFPrintBackground()))
	if err != nil {
		t.Fatalf("the browser does not print: %v", err)
	}
	return pdf
}
