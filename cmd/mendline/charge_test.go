package main

import (
	"bytes"
	"context"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"
)

// FuzzChargeFlags holds that any figures are answered: by a charge that has an end, or
// by one line that names a flag.
func FuzzChargeFlags(f *testing.F) {
	f.Add("4", "1.3", "20", "2.6", "4.2", "0.1", "0", "0.3", "1", "lipo")
	f.Add("12", "8", "4", "16", "", "", "500", "30%", "90%", "lipo")
	f.Add("-1", "NaN", "Inf", "1e400", "x", "0x10", "-0", "%", "130%", "nimh")
	f.Fuzz(func(t *testing.T, cells, ah, mohm, amps, volts, end, watts, from, to, chem string) {
		args := []string{"charge", "-json"}
		for _, a := range [][2]string{
			{"cells", cells}, {"ah", ah}, {"mohm", mohm}, {"amps", amps}, {"volts", volts}, {"end-amps", end},
			{"watts", watts}, {"from", from}, {"to", to}, {"chem", chem},
		} {
			if a[1] != "" {
				args = append(args, "-"+a[0]+"="+a[1])
			}
		}
		var out, errOut bytes.Buffer
		switch code := run(context.Background(), args, nil, &out, &errOut); code {
		case 0:
			var said map[string]*float64
			require.NoError(t, json.Unmarshal(out.Bytes(), &said))
			require.True(t, said["totalSec"] != nil && *said["totalSec"] >= 0 && !math.IsInf(*said["totalSec"], 1), "%q", args)
		case 2:
			require.Empty(t, out.String())
			require.Equal(t, 1, strings.Count(errOut.String(), "\n"), "%q: %s", args, errOut.String())
			require.Contains(t, errOut.String(), "-", "%q", args)
		default:
			t.Fatalf("%q: exit %d, %s", args, code, errOut.String())
		}
	})
}

// The worked packs of battery arithmetic, computed independently by small steps on the
// curve of the cobalt oxide pouch, minutes to 0.1: from the command line they come out
// the same, by its table's own flags.
func TestTheCommandSaysWhatThePackageComputes(t *testing.T) {
	for _, c := range []struct {
		cells, ah, mohm, amps, watts string
		minutes, zCV, wh             float64
	}{
		{"4", "0.65", "40", "0.65", "0", 43.9, 0.983, 7.15}, {"4", "1.3", "60", "2.6", "0", 30.4, 0.853, 14.68},
		{"12", "8", "4", "8", "0", 44.4, 0.978, 264.2}, {"12", "8", "4", "16", "500", 34.5, 0.971, 264.9},
	} {
		var out, errOut bytes.Buffer
		code := run(context.Background(), []string{
			"charge", "-cells", c.cells, "-ah", c.ah, "-mohm", c.mohm, "-amps", c.amps, "-watts", c.watts, "-from", "30%",
			"-ocv", "../../testdata/battery/ocv_models.csv", "-column", "lco_pouch", "-volts", "4.2", "-json",
		}, nil, &out, &errOut)
		require.Zero(t, code, errOut.String())
		var said struct {
			CCSec       float64 `json:"ccSec"`
			CPSec       float64 `json:"cpSec"`
			CVSec       float64 `json:"cvSec"`
			TotalSec    float64 `json:"totalSec"`
			SoCAtCV     float64 `json:"socAtCV"`
			WattHoursIn float64 `json:"wattHoursIn"`
		}
		require.NoError(t, json.Unmarshal(out.Bytes(), &said, json.RejectUnknownMembers(true)))
		require.InDelta(t, c.minutes, said.TotalSec/60, 0.1)
		require.InDelta(t, said.TotalSec, said.CCSec+said.CPSec+said.CVSec, 1e-6)
		require.InDelta(t, c.zCV, said.SoCAtCV, 0.001)
		require.InDelta(t, c.wh, said.WattHoursIn, 0.1)
		require.Equal(t, c.watts != "0", said.CPSec > 0)
	}
}

func TestTheCurveAsCSVEndsWhereTheAnswerDoes(t *testing.T) {
	args := []string{"charge", "-cells", "4", "-ah", "1.3", "-mohm", "20", "-amps", "2.6", "-from", "0.3", "-chem", "lipo", "-csv"}
	var out, errOut bytes.Buffer
	require.Zero(t, run(context.Background(), args, nil, &out, &errOut))
	rows := strings.Split(strings.TrimSpace(out.String()), "\n")
	require.Equal(t, "sec,amps,packVolts,watts,soc,wattHoursIn,phase", rows[0])
	last := strings.Split(rows[len(rows)-1], ",")
	sec, err := strconv.ParseFloat(last[0], 64)
	require.NoError(t, err)
	require.InDelta(t, 23.7, sec/60, 0.1)
	require.Equal(t, "cv", last[6])
}
