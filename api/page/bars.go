package page

import (
	"fmt"
	"html/template"
	"math"
	"strings"
)

// A bar's full width is so much of the limit; what is beyond is shown by an arrow.
const barSpan = 1.25

// bar draws how far a limit is used: a full bar for the sharp edge inside a hatched one
// for the worn edge, and a line where the limit is. The words beside it say the same.
func bar(sharp, worn *Node) template.HTML {
	var b strings.Builder
	across := func(v float64) string { return fmt.Sprintf("%.2f%%", 100*math.Min(math.Max(v, 0), barSpan)/barSpan) }
	b.WriteString(`<svg class="bar" width="100%" height="20" aria-hidden="true" focusable="false"><rect class="room" y="1" width="` + across(1) + `" height="18"/>`)
	if worn != nil {
		b.WriteString(`<rect class="worn" y="1" width="` + across(worn.Ratio()) + `" height="18"/>`)
	}
	if sharp != nil {
		b.WriteString(`<rect class="sharp" y="6" width="` + across(sharp.Ratio()) + `" height="8"/>`)
	}
	b.WriteString(`<rect class="all" x="` + across(1) + `" width="3" height="20"/>`)
	if math.Max(sharp.Ratio(), worn.Ratio()) > barSpan {
		b.WriteString(`<svg x="100%" overflow="visible"><path class="beyond" d="M-11 2 L-1 10 L-11 18 Z"/></svg>`)
	}
	b.WriteString(`</svg>`)
	return template.HTML(b.String()) // #nosec G203 -- shapes and numbers of ours
}

// over reports a limit that is passed.
func over(sharp, worn *Node) bool { return math.Max(sharp.Ratio(), worn.Ratio()) > 1 }

// signs are drawn so that their outline alone tells them apart.
var signs = map[string]template.HTML{
	"yes":     `<circle class="line" cx="12" cy="12" r="10.5"/><path class="line" d="M6.5 12.5 L10.5 16.5 L17.5 8"/>`,
	"refusal": `<path class="full" d="M7.5 1 H16.5 L23 7.5 V16.5 L16.5 23 H7.5 L1 16.5 V7.5 Z"/><rect class="bare" x="5" y="10" width="14" height="4"/>`,
	"hold":    `<rect class="ink" x="1" y="1" width="22" height="22"/><rect class="bare" x="6.5" y="5" width="4" height="14"/><rect class="bare" x="13.5" y="5" width="4" height="14"/>`,
	"warning": `<path class="line" d="M12 2 L22.5 21.5 H1.5 Z"/><path class="line" d="M12 8.5 V15"/><circle class="ink" cx="12" cy="18" r="1.5"/>`,
	"note":    `<circle class="thin" cx="12" cy="12" r="10.5"/><path class="line" d="M12 10.5 V18"/><circle class="ink" cx="12" cy="6.8" r="1.6"/>`,
}

// sign draws the sign of a severity or a verdict; the word stands beside it.
func sign(name string) template.HTML {
	return `<svg class="sign" viewBox="0 0 24 24" aria-hidden="true" focusable="false">` + signs[name] + `</svg>`
}

// swatch is a bar of the key, which says what a bar means.
func swatch(of string) template.HTML {
	mark := map[string]string{"sharp": `<rect class="sharp" y="4" width="26" height="8"/>`, "worn": `<rect class="worn" x="1" y="1" width="24" height="14"/>`, "all": `<rect class="all" x="12" width="3" height="16"/>`}[of]
	return template.HTML(`<svg class="swatch" width="26" height="16" aria-hidden="true" focusable="false">` + mark + `</svg>`) // #nosec G203 -- shapes of ours
}

// hatch is the pattern of the worn edge, once in a page.
const hatch = `<svg class="defs" width="0" height="0" aria-hidden="true" focusable="false"><defs><pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect class="gap" width="6" height="6"/><rect class="line" width="2" height="6"/></pattern></defs></svg>`
