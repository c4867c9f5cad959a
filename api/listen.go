package api

import (
	"log/slog"
	"net/http"
	"time"
)

// Times and sizes of a connection. A caller who sends or reads slowly loses the
// connection, not the others theirs.
const (
	readHeaderTimeout = 5 * time.Second
	readTimeout       = 30 * time.Second
	writeTimeout      = 60 * time.Second
	idleTimeout       = 120 * time.Second
	mostHeader        = 16 << 10 // bytes of header fields, refused with a problem
	hardestHeader     = 64 << 10 // beyond which the connection is ended with a bare 431
)

// HTTPServer makes the server of net/http for an address, with every time-out
// and the size of headers bounded. It does not listen yet.
func (s *Server) HTTPServer(addr string) *http.Server {
	return &http.Server{
		Addr:              addr,
		Handler:           s.Handler(),
		ReadHeaderTimeout: readHeaderTimeout,
		ReadTimeout:       readTimeout,
		WriteTimeout:      writeTimeout,
		IdleTimeout:       idleTimeout,
		MaxHeaderBytes:    hardestHeader,
		ErrorLog:          slog.NewLogLogger(s.Logger.Handler(), slog.LevelWarn),
	}
}
