package page

import (
	"bytes"
	_ "embed"
	"html/template"
	"sync"
)

//go:embed live.js
var liveJS string

//go:embed waiting.html
var waitingHTML string

// Parsed when first drawn: other commands start without it.
var waitingTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("waiting").Parse(waitingHTML)) })

// Waiting is the page that stands in for a live one while there is none yet.
func Waiting() ([]byte, error) {
	var b bytes.Buffer
	err := waitingTemplate().Execute(&b, &view{Style: template.CSS(pageCSS), Script: template.JS(liveJS)})
	return b.Bytes(), err
}

// LivePolicy is the Content-Security-Policy of live pages and of the one that waits: as that of a page that stands alone,
// but for news from where they came from.
func LivePolicy() string { return policy(pageJS+liveJS, liveJS) + "; connect-src 'self'" }
