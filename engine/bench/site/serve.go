package site

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// Policy is the content policy of the page: what it is made of comes from the
// place it came from, and nothing is sent anywhere. It may compile WebAssembly;
// the worker of a page opened from a folder is a blob.
const Policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; connect-src 'self'; worker-src 'self' blob:; img-src 'self' data:; base-uri 'none'; form-action 'none'"

// Handler serves the page to this computer alone.
func (s *Site) Handler() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", Policy+"; frame-ancestors 'none'")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		switch {
		case !loopback(r.RemoteAddr), !named(r.Host):
			refuse(w, http.StatusForbidden, "this page is for the computer it runs on")
			return
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			h.Set("Allow", "GET, HEAD")
			refuse(w, http.StatusMethodNotAllowed, "this page can only be read")
			return
		}
		name := strings.TrimPrefix(r.URL.Path, "/")
		if name == "" {
			name = "index.html"
		}
		f, ok := s.files[name]
		if !ok {
			refuse(w, http.StatusNotFound, "there is no such file")
			return
		}
		h.Set("Content-Type", f.Type)
		h.Set("Cache-Control", "no-cache") // ask each time: the tag says whether it changed
		h.Set("ETag", `"`+f.tag+`"`)
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(f.Data))
	})
}

func refuse(w http.ResponseWriter, code int, why string) {
	http.Error(w, why, code)
}

// loopback says that the other end is this computer.
func loopback(addr string) bool {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return false
	}
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}

// named says that the browser was told to come here: a page of another site
// whose name was turned to this address is refused.
func named(host string) bool {
	name, port, err := net.SplitHostPort(host)
	if err != nil {
		name = strings.Trim(host, "[]")
	} else if _, err := strconv.ParseUint(port, 10, 16); err != nil {
		return false
	}
	return name == "localhost" || name == "127.0.0.1" || name == "::1"
}

// Listen takes a port of the loopback address, a free one for 0.
func Listen(port int) (net.Listener, error) {
	return net.Listen("tcp4", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
}

// Serve serves until the context ends.
func (s *Site) Serve(ctx context.Context, l net.Listener) error {
	server := &http.Server{Handler: s.Handler(), ReadHeaderTimeout: 10 * time.Second, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10}
	stopped := make(chan struct{})
	defer context.AfterFunc(ctx, func() {
		defer close(stopped)
		short, cancel := context.WithTimeout(context.Background(), 2*time.Second)
		defer cancel()
		if server.Shutdown(short) != nil {
			server.Close()
		}
	})()
	err := server.Serve(l)
	if errors.Is(err, http.ErrServerClosed) {
		<-stopped
		return nil
	}
	return fmt.Errorf("serving the page: %w", err)
}
