package page

import (
	"html/template"
	"regexp"
	"strings"
)

// Parts of a picture that a page may not have as they are.
var (
	fontSheet  = regexp.MustCompile(`(?s)<style>.*?</style>`)
	styleAttr  = regexp.MustCompile(`(?s)\s+style="([^"]*)"`)
	pictureBox = regexp.MustCompile(`<svg width="[^"]*" height="[^"]*"`)
)

// Figure is a picture inside a page.
type Figure struct {
	Title, Says string
	SVG         template.HTML
	font        string // the style sheet with its font
}

// NewFigure takes a picture of package picture into a page: styles become presentation
// attributes, which a policy without inline styles allows, and the picture as wide as
// there is room. The title and the words for those who do not see it are plain text.
func NewFigure(title, says string, svg []byte) *Figure {
	text := string(svg)
	text = text[strings.Index(text, "<svg"):]
	f := &Figure{Title: title, Says: says}
	if sheet := fontSheet.FindString(text); sheet != "" {
		f.font = strings.TrimSuffix(strings.TrimPrefix(sheet, "<style>"), "</style>")
	}
	text = styleAttr.ReplaceAllStringFunc(text, func(attr string) string {
		var out strings.Builder
		for declaration := range strings.SplitSeq(styleAttr.FindStringSubmatch(attr)[1], ";") {
			if name, value, ok := strings.Cut(declaration, ":"); ok {
				out.WriteString(" " + strings.TrimSpace(name) + `="` + strings.TrimSpace(value) + `"`)
			}
		}
		return out.String()
	})
	text = pictureBox.ReplaceAllString(text, `<svg class="picture" role="img" aria-labelledby="picture-title picture-says"`)
	text = strings.Replace(text, "<title>", `<title id="picture-title">`, 1)
	text = strings.Replace(text, "<desc>", `<desc id="picture-says">`, 1)
	f.SVG = template.HTML(text) // #nosec G203 -- drawn by api/picture, which escapes every text
	return f
}
