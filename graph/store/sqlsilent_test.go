package store_test

import (
	"context"
	"errors"
	"net"
	"strings"
	"testing"
	"time"

	"matewell/graph/store"
)

// TestSilentServer: a server that takes the connection and then says nothing is
// given up in time, and at once when the question is stopped.
func TestSilentServer(t *testing.T) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	go func() {
		for {
			c, err := listener.Accept()
			if err != nil {
				return
			}
			defer c.Close()
		}
	}()
	address := "postgres://gull:s3cret@" + listener.Addr().String() + "/parts?connect_timeout=1"

	start := time.Now()
	_, err = store.OpenSQL(t.Context(), address)
	if err == nil || strings.Contains(err.Error(), "s3cret") || !strings.Contains(err.Error(), "does not answer") {
		t.Errorf("no answer: %v", err)
	}
	if took := time.Since(start); took > 5*time.Second {
		t.Errorf("given up after %s", took)
	}

	ctx, stop := context.WithCancel(t.Context())
	time.AfterFunc(100*time.Millisecond, stop)
	start = time.Now()
	if _, err = store.OpenSQL(ctx, strings.TrimSuffix(address, "1")+"60"); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	if took := time.Since(start); took > 2*time.Second {
		t.Errorf("stopped after %s", took)
	}
}
