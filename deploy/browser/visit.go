package main

import (
	"context"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"net/url"
	"os"
	"strconv"
	"strings"
	"time"
)

// seen is what a visit came to.
type seen struct {
	title    string
	requests int
	faults   []string
}

// visit is what is done with a page.
type visit struct {
	program, page, wait, screenshot, print string
	width, status                          int
	whole, document                        bool
	tries                                  []string
}

// make opens the page, waits until it shows what it must, tries some of its operations,
// takes pictures and collects every fault the browser tells of.
func (v *visit) make(ctx context.Context) (*seen, error) {
	u, err := url.Parse(v.page)
	if err != nil || u.Host == "" {
		return nil, fmt.Errorf("%q is no address of a page", v.page)
	}
	b, err := launch(ctx, v.program)
	if err != nil {
		return nil, err
	}
	defer b.close()
	s := &seen{}
	b.onEvent = func(method string, params json.RawMessage) { s.note(u, v, method, params) }
	for _, domain := range []string{"Network", "Log", "Runtime", "Page", "Security"} {
		if _, err := b.call(domain+".enable", nil); err != nil {
			return nil, err
		}
	}
	size := map[string]any{"width": v.width, "height": v.width * 5 / 4, "deviceScaleFactor": 1, "mobile": false}
	if _, err := b.call("Emulation.setDeviceMetricsOverride", size); err != nil {
		return nil, err
	}
	if _, err := b.call("Page.navigate", map[string]any{"url": v.page}); err != nil {
		return nil, err
	}
	if err := b.until(ctx, present(v.wait)); err != nil {
		s.faults = append(s.faults, "the page never showed "+v.wait)
	} else if err := v.operations(b, u); err != nil {
		s.faults = append(s.faults, err.Error())
	}
	time.Sleep(500 * time.Millisecond) // what the page still asks for after that
	title, err := b.evaluate("document.title")
	if err != nil {
		return nil, err
	}
	s.title, _ = strconv.Unquote(title)
	wide, err := b.evaluate("document.documentElement.scrollWidth")
	if err != nil {
		return nil, err
	}
	if n, err := strconv.Atoi(wide); err != nil || n > v.width {
		s.faults = append(s.faults, fmt.Sprintf("the page is %s pixels wide in a window of %d", wide, v.width))
	}
	if err := b.picture(v.screenshot, v.whole); err != nil {
		return s, err
	}
	if v.print != "" {
		if err := b.save("Page.printToPDF", map[string]any{"preferCSSPageSize": true, "paperWidth": 8.27, "paperHeight": 11.69}, v.print); err != nil {
			return s, err
		}
	}
	for i, block := range v.tries {
		if err := b.try(ctx, block); err != nil {
			s.faults = append(s.faults, err.Error())
			continue
		}
		time.Sleep(200 * time.Millisecond) // for the answer to be laid out
		name := strings.TrimSuffix(v.screenshot, ".png") + "-" + strconv.Itoa(i+1) + ".png"
		if err := b.picture(name, false); err != nil {
			return s, err
		}
	}
	return s, nil
}

// note reads an event for what a page must not do.
func (s *seen) note(page *url.URL, v *visit, method string, params json.RawMessage) {
	var e struct {
		Request  struct{ URL string }
		Response struct {
			URL    string
			Status int
		}
		Entry     struct{ Level, Text, URL string }
		Type      string
		ErrorText string
		Args      []struct {
			Value       any
			Description string
		}
		ExceptionDetails struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	if err := json.Unmarshal(params, &e); err != nil {
		s.faults = append(s.faults, method+": "+err.Error())
		return
	}
	fault := func(format string, args ...any) { s.faults = append(s.faults, fmt.Sprintf(format, args...)) }
	switch method {
	case "Network.requestWillBeSent":
		s.requests++
		u, err := url.Parse(e.Request.URL)
		if err != nil || u.Host != page.Host && u.Scheme != "data" && u.Scheme != "blob" {
			fault("asks for %s, not of this server", e.Request.URL)
		}
	case "Network.responseReceived":
		if own := e.Response.URL == v.page; own && e.Response.Status != v.status || !own && e.Response.Status >= 400 {
			fault("%s answers %d", e.Response.URL, e.Response.Status)
		}
	case "Network.loadingFailed":
		fault("a request failed: %s", e.ErrorText)
	case "Log.entryAdded":
		if e.Entry.Level == "error" && !(e.Entry.URL == v.page && v.status >= 400) {
			fault("logs an error: %s %s", e.Entry.Text, e.Entry.URL)
		}
	case "Runtime.consoleAPICalled":
		if e.Type == "error" || e.Type == "assert" {
			var words []string
			for _, a := range e.Args {
				words = append(words, fmt.Sprint(a.Value, a.Description))
			}
			fault("console: %s", strings.Join(words, " "))
		}
	case "Runtime.exceptionThrown":
		fault("throws: %s %s", e.ExceptionDetails.Text, e.ExceptionDetails.Exception.Description)
	}
}

// picture writes what the window looks like, or the whole page.
func (b *browser) picture(file string, whole bool) error {
	return b.save("Page.captureScreenshot", map[string]any{"format": "png", "captureBeyondViewport": whole}, file)
}

// save writes to a file what the page gives as data.
func (b *browser) save(method string, params map[string]any, file string) error {
	answer, err := b.call(method, params)
	if err != nil {
		return err
	}
	var shot struct{ Data string }
	if err := json.Unmarshal(answer, &shot); err != nil {
		return err
	}
	data, err := base64.StdEncoding.DecodeString(shot.Data)
	if err != nil {
		return err
	}
	return os.WriteFile(file, data, 0o644)
}
