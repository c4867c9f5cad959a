package main

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"
)

// documented counts the operations of the OpenAPI document that the page shows.
func documented(page *url.URL) (int, error) {
	answer, err := http.Get(page.Scheme + "://" + page.Host + "/openapi.json")
	if err != nil {
		return 0, err
	}
	defer answer.Body.Close()
	var doc struct {
		Paths map[string]map[string]json.RawMessage
	}
	if err := json.NewDecoder(answer.Body).Decode(&doc); err != nil {
		return 0, fmt.Errorf("/openapi.json: %w", err)
	}
	count := 0
	for _, methods := range doc.Paths {
		count += len(methods)
	}
	return count, nil
}

// operations holds what the page lists against the OpenAPI document, where it must.
func (v *visit) operations(b *browser, page *url.URL) error {
	if !v.document {
		return nil
	}
	want, err := documented(page)
	if err != nil {
		return err
	}
	text, err := b.evaluate("document.querySelectorAll('.opblock').length")
	if err != nil {
		return err
	}
	if got, err := strconv.Atoi(text); err != nil || got != want || want == 0 {
		return fmt.Errorf("the page lists %s operations, the document has %d", text, want)
	}
	return nil
}

// try opens an operation, sends what the page has filled in and wants the answer 200.
func (b *browser) try(ctx context.Context, block string) error {
	for _, part := range []string{".opblock-summary-control", ".try-out__btn", ".execute"} {
		if err := b.click(ctx, block+" "+part); err != nil {
			return err
		}
	}
	status := block + " .live-responses-table tbody .response-col_status"
	if err := b.until(ctx, present(status)); err != nil {
		return fmt.Errorf("%s: no answer: %w", block, err)
	}
	text, err := b.evaluate("document.querySelector(" + strconv.Quote(status) + ").textContent")
	if err != nil {
		return err
	}
	if !strings.HasPrefix(strings.Trim(text, `" `), "200") {
		return fmt.Errorf("%s: the example is answered with %s", block, text)
	}
	_, err = b.evaluate("document.querySelector(" + strconv.Quote(block+" .responses-wrapper") + ").scrollIntoView()")
	return err
}

// click waits for an element and clicks it.
func (b *browser) click(ctx context.Context, selector string) error {
	if err := b.until(ctx, present(selector)); err != nil {
		return fmt.Errorf("the page never showed %s: %w", selector, err)
	}
	_, err := b.evaluate("document.querySelector(" + strconv.Quote(selector) + ").click()")
	return err
}

// present is the expression that an element is there.
func present(selector string) string {
	return "document.readyState === 'complete' && document.querySelector(" + strconv.Quote(selector) + ") !== null"
}

// until waits for an expression to be true, at most 10 s.
func (b *browser) until(ctx context.Context, expression string) error {
	ctx, cancel := context.WithTimeout(ctx, 10*time.Second)
	defer cancel()
	for {
		text, err := b.evaluate(expression)
		if err != nil {
			return err
		}
		if text == "true" {
			return nil
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(100 * time.Millisecond):
		}
	}
}
