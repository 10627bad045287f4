//go:build browser

package browser

import (
	"bytes"
	"context"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"locksweep/fixtures"
)

// examples is a folder with the setup file of every example, for the program to work in.
var examples = sync.OnceValues(func() (string, error) {
	for _, e := range fixtures.Examples {
		data, err := e.Data()
		if err == nil {
			err = os.WriteFile(filepath.Join(workshop, e.Name+".toml"), data, 0o600)
		}
		if err != nil {
			return "", err
		}
	}
	return workshop, nil
})

// run lets the program work on the examples and returns what it prints.
func run(t *testing.T, args ...string) []byte {
	t.Helper()
	folder, err := examples()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program(t), args...)
	cmd.Dir = folder
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("locksweep %s: %v\n%s", strings.Join(args, " "), err, said.String())
	}
	return out
}

// pages are those that the tests open: every example, two setups over one another, and what is asked for by name.
var pages = func() map[string][]string {
	list := map[string][]string{
		"compared": {"shed-kart.toml", "cyclekart.toml"},
		"asked":    {"shed-kart.toml", "--grind", "36"},
	}
	for _, e := range fixtures.Examples {
		list[e.Name] = []string{e.Name + ".toml"}
	}
	return list
}()

// eachPage opens every page in a tab of its own.
func eachPage(t *testing.T, check func(t *testing.T, page tab, name string)) {
	for _, name := range slices.Sorted(maps.Keys(pages)) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			check(t, openPage(t, name), name)
		})
	}
}

// making is held while a page is made: each once.
var making sync.Mutex

// openPage makes a page with the program and opens it. When the test ends the browser must have complained of nothing and
// asked for nothing but the page.
func openPage(t *testing.T, name string, first ...chromedp.Action[chromedp.Void]) tab {
	t.Helper()
	file := filepath.Join(workshop, name+".html")
	making.Lock()
	if _, err := os.Stat(file); err != nil {
		run(t, append([]string{"report", "-o", file}, pages[name]...)...)
	}
	making.Unlock()
	return openAddress(t, "file://"+file, nil, first...)
}

// openAddress opens a page; allowed are the addresses, but for its own, that it may ask for.
func openAddress(t *testing.T, address string, allowed []string, first ...chromedp.Action[chromedp.Void]) tab {
	t.Helper()
	page := newTab(t)
	var mu sync.Mutex
	var asked []string
	if err := chromedp.Listen(page.ctx, func(event any) {
		if e, ok := event.(*network.EventRequestWillBeSent); ok {
			mu.Lock()
			asked = append(asked, e.Request.URL)
			mu.Unlock()
		}
	}); err != nil {
		t.Fatal(err)
	}
	page.do(t, append([]chromedp.Action[chromedp.Void]{
		chromedp.Func(func(ctx context.Context, to *chromedp.Target) error {
			_, err := cdp.Call(ctx, to, network.Enable, network.EnableParams{})
			return err
		}),
		chromedp.EmulateViewport(1200, 900),
	}, first...)...)
	page.do(t, chromedp.Navigate(address))
	t.Cleanup(func() {
		for _, c := range page.complaints(t) {
			t.Errorf("the browser complains: %s", c)
		}
		mu.Lock()
		defer mu.Unlock()
		if !slices.Contains(asked, address) {
			t.Errorf("%s is not among what was asked for: %q", address, asked)
		}
		for _, url := range asked {
			if url != address && url != "data:," && !slices.Contains(allowed, url) {
				t.Errorf("the page asks for %s", url)
			}
		}
	})
	return page
}

// do carries out actions.
func (page tab) do(t *testing.T, actions ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(page.ctx, actions...); err != nil {
		t.Fatal(err)
	}
}

// ask returns what a script finds on the page.
func ask[T any](t *testing.T, page tab, script string) T {
	t.Helper()
	v, err := chromedp.Run(page.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatalf("%.80s: %v", script, err)
	}
	return v
}

// until waits for what a script finds true; meanwhile the page may be loaded anew.
func (page tab) until(t *testing.T, what, script string) {
	t.Helper()
	for limit := time.Now().Add(time.Minute); ; time.Sleep(2 * time.Millisecond) {
		found, err := chromedp.Run(page.ctx, chromedp.Evaluate[bool]("!!("+script+")"))
		if found {
			return
		}
		if time.Now().After(limit) {
			t.Fatalf("%s: nothing comes of it: %v", what, err)
		}
	}
}

// media sets what the system asks for: screen or print, light or dark, motion.
func media(kind string, features ...*emulation.MediaFeature) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, to *chromedp.Target) error {
		_, err := cdp.Call(ctx, to, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: kind, Features: features})
		return err
	})
}

func scheme(value string) chromedp.Action[chromedp.Void] {
	return media("", &emulation.MediaFeature{Name: "prefers-color-scheme", Value: value})
}

// phone is the viewport of a phone.
var phone = chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait)
