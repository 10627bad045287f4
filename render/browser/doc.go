// Package browser holds the checks that only a browser can make, on drawings as a reader gets them: no
// error, no text on another or off the sheet, and true millimetres when printed. They carry the build tag
// browser and need Chromium and pdftocairo (poppler):
//
//	go test -tags browser ./render/browser/
package browser
