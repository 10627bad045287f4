//go:build browser

package browser

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"locksweep/fixtures"
)

// TestWatchedPage edits a setup file while its page is open: each save shows by itself, with the slider and what is unfolded as they were;
// a mistake shows with its line and caret over the last good drawing, greyed, and goes when the file is right again; an
// interrupt ends it.
func TestWatchedPage(t *testing.T) {
	data, err := fixtures.Example{Name: "cyclekart"}.Data()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "kart.toml")
	save := func(name, more string) time.Time {
		t.Helper()
		text := strings.Replace(string(data), "name", fmt.Sprintf("name = %q #", name), 1) + more
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return time.Now()
	}
	save("before", "")
	address := watching(t, path)
	page := openAddress(t, address, []string{address + "news"})
	page.do(t, chromedp.Click(chromedp.CSS(`button[data-tag="R1"]`)))
	ask[bool](t, page, `document.querySelectorAll('details')[1].open = true`)
	stood := page.stand(t)
	if stood.Scroll == 0 || stood.Focus != "R1" || len(stood.Open) != 1 {
		t.Errorf("%+v: want a page that is scrolled, with R1 in focus and one detail unfolded", stood)
	}

	var took []int64
	for i := range 9 {
		name := fmt.Sprintf("after %d", i)
		saved := save(name, "")
		page.until(t, "a save", fmt.Sprintf(`document.querySelector('h1').textContent === %q`, name))
		ask[bool](t, page, `new Promise(painted => requestAnimationFrame(() => setTimeout(() => painted(true))))`)
		took = append(took, time.Since(saved).Milliseconds())
		if now := page.stand(t); !reflect.DeepEqual(now, stood) {
			t.Errorf("%+v after a save, before %+v", now, stood)
		}
	}
	slices.Sort(took)
	t.Logf("painted after a save within %d ms, half of them within %d ms", took[0], took[len(took)/2])

	save("after", "")
	page.until(t, "a save", `document.querySelector('h1').textContent === 'after'`)
	save("broken", "\nnonsense = 1\n")
	page.until(t, "a broken save", `!document.getElementById('mistakes').hidden`)
	seen := ask[struct {
		Mistakes, Head string
		Stale          bool
		Opacity        float64
	}](t, page, `({Mistakes: document.getElementById('mistakes').textContent, Head: document.querySelector('h1').textContent,
		Stale: document.documentElement.classList.contains('stale'), Opacity: +getComputedStyle(document.querySelector('.panel')).opacity})`)
	if !strings.Contains(seen.Mistakes, "nonsense = 1") || !strings.Contains(seen.Mistakes, "^") || seen.Head != "after" || !seen.Stale || seen.Opacity > 0.6 {
		t.Errorf("%+v: want the line with its caret, and the last good drawing greyed", seen)
	}
	if script, err := axe(); err == nil {
		ask[bool](t, page, script+`; true`)
		// What is greyed is out of date, and hard to read on purpose; its page says so above.
		for _, v := range violations(t, page) {
			if !strings.HasPrefix(v, "color-contrast") {
				t.Error(v)
			}
		}
	}

	save("mended", "")
	page.until(t, "a mended save", `document.querySelector('h1').textContent === 'mended' && document.getElementById('mistakes').hidden && !document.documentElement.classList.contains('stale')`)
}

// standing is what a reader has done to a page.
type standing struct {
	Column, Focus string
	Scroll        float64
	Open          []string // details that are unfolded
	Mains         int
}

func (page tab) stand(t *testing.T) standing {
	t.Helper()
	return ask[standing](t, page, `({Column: document.getElementById('column').textContent, Focus: document.activeElement.dataset.tag || '',
		Scroll: document.scrollingElement.scrollTop, Open: [...document.querySelectorAll('details[open] > summary')].map(s => s.textContent),
		Mains: document.querySelectorAll('main, #show').length})`)
}

// watching lets the program serve a setup file until the test ends, and returns the address that it prints.
func watching(t *testing.T, path string) string {
	t.Helper()
	cmd := exec.Command(program(t), "watch", path)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Signal(os.Interrupt)
		if err := cmd.Wait(); err != nil {
			t.Errorf("interrupted, it ends with %v", err)
		}
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil || !strings.HasPrefix(line, "http://127.0.0.1:") {
		t.Fatalf("it prints %q, %v", line, err)
	}
	return strings.TrimSpace(line)
}
