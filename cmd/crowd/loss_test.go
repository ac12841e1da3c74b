package main

import (
	"context"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

const (
	lossEnv = "MENDLINE_LOSS" // seconds at 30 % loss
	insideE = "MENDLINE_LOSS_INSIDE"
	gaps    = 3
	gap     = 10 * time.Second
)

// TestTenPhonesOnABadNetwork gives ten phones a network of their own that loses packets.
// What they show is measured on the wall's clock, so it runs at night only.
func TestTenPhonesOnABadNetwork(t *testing.T) {
	seconds, err := time.ParseDuration(os.Getenv(lossEnv) + "s")
	if err != nil {
		t.Skip(lossEnv + " does not say for how many seconds")
	}
	if os.Getenv(insideE) == "" {
		inANamespace(t)
		return
	}
	command(t, "", "ip", "link", "set", "lo", "up")
	c := newCrowd(pit(t, honest), 10, 1)
	for _, d := range c.devices {
		d.cutsMost = 1000
	}
	ctx, cancel := context.WithCancelCause(t.Context())
	require.NoError(t, c.join(ctx, crewCode, t.Output()))
	wait, err := c.open(ctx, cancel)
	t.Cleanup(func() { cancel(nil); wait() })
	require.NoError(t, err)

	rng := rand.New(rand.NewPCG(1, 2))
	converged := make([]time.Duration, 0, gaps)
	for range gaps {
		loses(t, "drop")
		c.given(t, ctx, schedule(rng, 2, gap, false), gap)
		loses(t, "")
		over := time.Now()
		require.Eventually(t, c.converged, 30*time.Second, tick)
		converged = append(converged, time.Since(over))
	}
	c.collect()
	c.ledger.untimed = len(c.ledger.sent)

	loses(t, "numgen random mod 100 < 30 drop")
	_, err = c.load(ctx, schedule(rng, 2, seconds, false), c.mix.next)
	require.NoError(t, err)
	loses(t, "")
	_, err = until(ctx, drainWait, c.converged)
	require.NoError(t, err)
	_, _, err = c.compare(ctx)
	require.NoError(t, err)
	c.collect()
	c.ledger.verify()
	require.Empty(t, c.ledger.faults, "no tick is lost")
	ack, everywhere := c.ledger.times()
	var each []time.Duration
	for _, s := range c.ledger.sent[c.ledger.untimed:] {
		for _, at := range c.ledger.arrivals[s.rev].each {
			each = append(each, at.Sub(s.at))
		}
	}
	answered, phone := spreadOf(ack), spreadOf(each)
	t.Logf("after gaps of %s all had the same board in %s", gap, converged)
	t.Logf("at 30 %% loss, milliseconds: answered %+v, at a phone %+v, at the last of ten %+v", answered, phone, spreadOf(everywhere))
	require.Less(t, slices.Max(converged), 2*time.Second)
	require.Less(t, answered.P95, 5000.0)
	require.Less(t, phone.P95, 5000.0)
}

// given gives commands when they are due, until the time is over, and waits for nothing.
func (c *crowd) given(t *testing.T, ctx context.Context, due []time.Duration, over time.Duration) {
	t.Helper()
	begun := time.Now()
	require.NoError(t, pace(ctx, append(due, over), func(i int) error {
		if i == len(due) {
			return nil
		}
		o, err := c.mix.next()
		if err != nil {
			return err
		}
		d := c.devices[c.rng.IntN(len(c.devices))]
		at, err := d.send(o)
		c.ledger.note(&sent{order: o, by: d.person, at: at})
		c.late = max(c.late, at.Sub(begun)-due[i])
		return err
	}))
}

// converged tells whether nothing waits, and all have the same board.
func (c *crowd) converged() bool {
	epoch, rev := c.devices[0].at()
	return c.answered() && !slices.ContainsFunc(c.devices, func(d *device) bool { e, r := d.at(); return e != epoch || r != rev })
}

// inANamespace runs the test again where the loopback is its own.
func inANamespace(t *testing.T) {
	t.Helper()
	for _, tool := range []string{"ip", "nft"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skip(tool + " is not installed: no network can be made bad")
		}
	}
	cmd := exec.CommandContext(t.Context(), os.Args[0], "-test.run=^"+t.Name()+"$", "-test.v")
	cmd.Env = append(os.Environ(), insideE+"=1")
	cmd.SysProcAttr = &syscall.SysProcAttr{
		Cloneflags:  syscall.CLONE_NEWUSER | syscall.CLONE_NEWNET,
		UidMappings: []syscall.SysProcIDMap{{HostID: os.Getuid(), Size: 1}},
		GidMappings: []syscall.SysProcIDMap{{HostID: os.Getgid(), Size: 1}},
	}
	out, err := cmd.CombinedOutput()
	if len(out) == 0 && err != nil {
		t.Skip("a network of its own is not allowed here: ", err)
	}
	t.Logf("%s", out)
	require.NoError(t, err)
}

// loses has the loopback drop packets as the rule says, none by "".
func loses(t *testing.T, rule string) {
	t.Helper()
	rules := "flush ruleset\ntable inet loss {\n chain in {\n  type filter hook input priority 0\n"
	if rule != "" {
		rules += "  iif lo meta l4proto tcp " + rule + "\n"
	}
	command(t, rules+" }\n}\n", "nft", "-f", "-")
}

func command(t *testing.T, in string, name string, args ...string) {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Stdin = strings.NewReader(in)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", out)
}
