// Command browser opens a page in headless Chromium with the network cut but for the
// page's own host, and fails when the page logs an error, asks for anything from
// elsewhere, something it asks for fails, it is wider than the window, an operation of its
// document is not listed or an example is not answered. It writes screenshots, and prints
// the page, to be looked at.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"strings"
	"time"
)

func main() {
	var v visit
	flag.StringVar(&v.page, "url", "", "page to open")
	flag.StringVar(&v.screenshot, "screenshot", "", "where to write the picture (PNG)")
	flag.StringVar(&v.print, "print", "", "where to write the page as it is printed (PDF)")
	flag.IntVar(&v.width, "width", 1280, "width of the window in pixels")
	flag.BoolVar(&v.whole, "whole", false, "the picture is of the whole page, not of the window")
	flag.BoolVar(&v.document, "document", false, "the page must list every operation of the OpenAPI document")
	flag.IntVar(&v.status, "status", 200, "the status that the page is answered with")
	flag.StringVar(&v.program, "chromium", "chromium", "the browser")
	flag.StringVar(&v.wait, "wait", "main", "what the page must show, as a CSS selector")
	try := flag.String("try", "", "blocks of operations to send as the page has filled them in, as CSS selectors with commas between")
	flag.Parse()
	if v.page == "" || v.screenshot == "" {
		fmt.Fprintln(os.Stderr, "browser: -url and -screenshot are needed")
		os.Exit(2)
	}
	v.tries = strings.FieldsFunc(*try, func(r rune) bool { return r == ',' })
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	seen, err := v.make(ctx)
	if err != nil {
		fmt.Fprintln(os.Stderr, "browser:", err)
		os.Exit(1)
	}
	for _, fault := range seen.faults {
		fmt.Println("        ", fault)
	}
	fmt.Printf("        %s: %q, %d requests, %d faults, screenshot %s\n", v.page, seen.title, seen.requests, len(seen.faults), v.screenshot)
	if len(seen.faults) > 0 {
		os.Exit(1)
	}
}
