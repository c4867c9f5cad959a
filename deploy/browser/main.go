// Command browser opens a page in headless Chromium with the network cut but for the
// page's own host, and fails when the page logs an error, asks for anything from
// elsewhere, something it asks for fails, an operation of its document is not listed or
// an example is not answered. It writes screenshots to be looked at.
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
	url := flag.String("url", "", "page to open")
	screenshot := flag.String("screenshot", "", "where to write the picture (PNG)")
	chromium := flag.String("chromium", "chromium", "the browser")
	wait := flag.String("wait", ".opblock-tag, .opblock", "what the page must show, as a CSS selector")
	try := flag.String("try", "", "blocks of operations to send as the page has filled them in, as CSS selectors with commas between")
	flag.Parse()
	if *url == "" || *screenshot == "" {
		fmt.Fprintln(os.Stderr, "browser: -url and -screenshot are needed")
		os.Exit(2)
	}
	tries := strings.FieldsFunc(*try, func(r rune) bool { return r == ',' })
	ctx, cancel := context.WithTimeout(context.Background(), 60*time.Second)
	defer cancel()
	seen, err := visit(ctx, *chromium, *url, *wait, *screenshot, tries)
	if err != nil {
		fmt.Fprintln(os.Stderr, "browser:", err)
		os.Exit(1)
	}
	for _, fault := range seen.faults {
		fmt.Println("        ", fault)
	}
	fmt.Printf("        %s: %q, %d requests, %d faults, screenshot %s\n", *url, seen.title, seen.requests, len(seen.faults), *screenshot)
	if len(seen.faults) > 0 {
		os.Exit(1)
	}
}
