// Package browser holds the checks that only a browser can make, on drawings and on the page as a reader gets them: no error,
// no text on another or off the sheet, true millimetres when printed; the page by mouse, touch and keys, on a phone, without
// script, in print. They carry the build tag browser and need Chromium and poppler, and npm for one of them:
//
//	go test -tags browser ./render/browser/
package browser
