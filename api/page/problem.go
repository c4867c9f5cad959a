package page

import "swarf/api/wire"

var problem = func() *Template {
	text, err := files.ReadFile("problem.html")
	if err != nil {
		panic(err) // the file is named in the embed line of the package
	}
	return New(string(text))
}()

// Problem writes a problem document (RFC 9457) as a page.
func Problem(p *wire.Problem) ([]byte, error) { return problem.Write(p.Title, p) }
