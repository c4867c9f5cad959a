package api

import (
	"crypto/sha256"
	"encoding/base64"
	"html/template"
	"strings"
)

// problemStyle is the look of the pages of problems: plain, for a phone and for paper.
const problemStyle = `
body{margin:0 auto;max-width:46rem;padding:1rem;font:1rem/1.5 system-ui,"Liberation Sans",Arial,sans-serif;color:#1c1c1c;background:#fff;overflow-wrap:break-word}
h1{font-size:1.75rem;line-height:1.15;margin:1rem 0 .4rem}
h2{font-size:1.2rem;margin:1.6rem 0 .4rem;border-top:2px solid #1c1c1c;padding-top:.35rem}
a{color:#1f4f8c}
code{font-family:ui-monospace,"Liberation Mono",monospace;font-size:.92em}
table{border-collapse:collapse;width:100%}
th,td{text-align:left;vertical-align:top;padding:.3rem .8rem .3rem 0;border-bottom:1px solid #8a8a86}
thead th{border-bottom:2px solid #1c1c1c;color:#545454;font-size:.88rem}
tbody th{font-weight:400}
.code,.up{color:#545454}
@media print{a{color:inherit}}
`

// problemStyleHash names it in a policy (CSP level 3).
var problemStyleHash = func() string {
	sum := sha256.Sum256([]byte(problemStyle))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}()

// codeIn sets what stands between backquotes as code.
func codeIn(text string) template.HTML {
	var b strings.Builder
	for i, part := range strings.Split(text, "`") {
		part = template.HTMLEscapeString(part)
		if i%2 == 1 {
			part = "<code>" + part + "</code>"
		}
		b.WriteString(part)
	}
	return template.HTML(b.String())
}
