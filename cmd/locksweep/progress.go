package main

import (
	"fmt"
	"os"
	"strings"
	"time"
)

// progress tells on a terminal, from the first second on, how far a long search has come; done wipes that out.
func progress(what string) (told func(count int), done func()) {
	if !isTerminal(os.Stderr) {
		return nil, func() {}
	}
	last, shown := time.Now(), 0
	told = func(count int) {
		if now := time.Now(); now.Sub(last) > time.Second {
			line := fmt.Sprintf("%d %s ", count, what)
			fmt.Fprint(os.Stderr, "\r"+line)
			last, shown = now, max(shown, len(line))
		}
	}
	return told, func() {
		if shown > 0 {
			fmt.Fprintf(os.Stderr, "\r%s\r", strings.Repeat(" ", shown))
		}
	}
}
