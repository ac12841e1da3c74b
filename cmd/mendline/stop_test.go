package main

import (
	"context"
	"net"
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestAStopCutsARequestThatStallsAndWaitsForOneThatEnds(t *testing.T) {
	for name, ends := range map[string]bool{"stalls": false, "ends": true} {
		t.Run(name, func(t *testing.T) {
			begun, ended := make(chan struct{}), make(chan error, 1)
			web := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				close(begun)
				if ends {
					ended <- nil
					return
				}
				_, err := r.Body.Read(make([]byte, 1))
				ended <- err
			})}
			l, err := net.Listen("tcp", "127.0.0.1:0")
			require.NoError(t, err)
			go web.Serve(l) // ends with the stop
			phone, err := net.Dial("tcp", l.Addr().String())
			require.NoError(t, err)
			defer phone.Close()
			_, err = phone.Write([]byte("POST / HTTP/1.1\r\nHost: pit\r\nContent-Length: 9\r\n\r\n"))
			require.NoError(t, err)
			<-begun

			patience := time.Millisecond
			if ends {
				patience = time.Hour
				_, err = phone.Write([]byte("a picture"))
				require.NoError(t, err)
			}
			ctx, cancel := context.WithTimeout(t.Context(), patience)
			defer cancel()
			require.NoError(t, shutDown(ctx, web))
			if err := <-ended; ends {
				require.NoError(t, err)
			} else {
				require.Error(t, err, "its connection is closed")
			}
		})
	}
}
