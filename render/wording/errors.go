package wording

import (
	"errors"
	"fmt"
	"strings"

	"locksweep/geometry/linkage"
)

// Error puts the figures of an error of the linkage into words; other errors stay as they are.
func Error(err error) error {
	var e *linkage.AssemblyError
	if !errors.As(err, &e) {
		return err
	}
	by, word, limit, bound := e.Least-e.Rod, "short", "at least", e.Least
	if e.Rod > e.Greatest {
		by, word, limit, bound = e.Rod-e.Greatest, "long", "at most", e.Greatest
	}
	u := e.Unit
	text := fmt.Sprintf("the %s is %.3g %s too %s to assemble with the column centred: it has %.6g %s, %s %.6g %s would reach",
		e.Name, u.FromMM(by), u, word, u.FromMM(e.Rod), u, limit, u.FromMM(bound), u)
	return worded{strings.Replace(err.Error(), e.Error(), text, 1), err}
}

// worded is an error in other words.
type worded struct {
	text string
	err  error
}

func (w worded) Error() string { return w.text }
func (w worded) Unwrap() error { return w.err }
