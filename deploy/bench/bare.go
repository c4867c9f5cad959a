package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os/signal"
	"strconv"
	"syscall"

	"github.com/labstack/echo/v4"

	"swarf/api/wire"
)

// serveBare serves the least that could answer an estimate: Echo, encoding/json into
// the same types, ready-made bytes of the same size. It prints its address and ends
// when told to.
func serveBare(size int) error {
	answer := append(append([]byte(`{"x":"`), bytes.Repeat([]byte("x"), max(size-8, 0))...), `"}`...)
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.POST("/v1/estimates", func(c echo.Context) error {
		var cut wire.Cut
		if err := json.NewDecoder(c.Request().Body).Decode(&cut); err != nil {
			return err
		}
		c.Response().Header().Set("Content-Length", strconv.Itoa(len(answer)))
		return c.JSONBlob(http.StatusOK, answer)
	})
	e.GET("/readyz", func(c echo.Context) error { return c.NoContent(http.StatusOK) })
	return serveUntilTold(e)
}

// serveUntilTold prints the address of a handler and serves it until told to end.
func serveUntilTold(h http.Handler) error {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	fmt.Printf("http://%s\n", listener.Addr())
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM, syscall.SIGINT)
	defer stop()
	server := &http.Server{Handler: h}
	context.AfterFunc(ctx, func() { server.Close() })
	if err := server.Serve(listener); err != http.ErrServerClosed {
		return err
	}
	return nil
}
