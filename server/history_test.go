package server

import (
	"math/rand/v2"
	"sync"
	"testing"
	"time"

	"github.com/anishathalye/porcupine"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// asked is one command as a socket sent it, answered what came back.
type asked struct {
	id      board.CommandID
	command board.Command
	by      board.Actor
}

type answered struct {
	rev  board.Rev
	code board.Code
}

// histories is the board's own pure function as a model: whatever order explains
// the answers must be one in which Apply gives just them.
func histories(start board.State, now board.Moment) porcupine.Model {
	return porcupine.Model{
		Init: func() any { return start },
		Step: func(state, input, output any) (bool, any) {
			s, in, out := state.(board.State), input.(asked), output.(answered)
			change, refusal := board.Apply(s, in.command, board.Ask{ID: in.id}, in.by, now)
			if refusal != nil {
				return out.code == refusal.Code, s
			}
			return out.rev == change.Rev && out.code == "", s.With(change)
		},
		Equal: func(a, b any) bool { return a.(board.State).Rev == b.(board.State).Rev },
	}
}

// record lets eight sockets command at once and gives what each asked and was
// told.
func record(t *testing.T) (porcupine.Model, []porcupine.Operation) {
	p := newPit(t)
	p.told(board.StockAdd{StockFields: board.StockFields{Name: "belt", Count: 30}})
	var belt board.StockID
	for id, stock := range p.d.View().State.Stocks {
		if stock.Name == "belt" {
			belt = id
		}
	}
	people := []device{p.crew(), p.safety(), p.captain()}
	socks := make([]*sock, 8)
	for i := range socks {
		socks[i] = p.dial(people[i%len(people)])
		socks[i].resume("", 0)
	}
	model := histories(p.d.View().State, p.d.Now())
	var mu sync.Mutex
	var ops []porcupine.Operation
	var clients sync.WaitGroup
	for client, k := range socks {
		who := people[client%len(people)].who
		by := board.Actor{Person: who.Person, Role: who.Role}
		clients.Go(func() {
			rng := rand.New(rand.NewPCG(5, uint64(client)))
			for range 12 {
				var c board.Command = board.StockUse{Stock: belt, Count: 1 + rng.IntN(6)}
				if rng.IntN(5) == 0 {
					c = board.StockCount{Stock: belt, Count: rng.IntN(20)}
				}
				mu.Lock()
				id := p.newID()
				mu.Unlock()
				call := time.Now().UnixNano()
				m := k.do(Ask{ID: id.String(), Do: board.Name(c), With: jsontext.Value(encode(t, c))})
				out := answered{rev: m.Rev}
				if m.Refusal != nil {
					out = answered{code: m.Refusal.Code}
				}
				mu.Lock()
				ops = append(ops, porcupine.Operation{
					ClientId: client, Input: asked{id, c, by}, Output: out, Call: call, Return: time.Now().UnixNano(),
				})
				mu.Unlock()
			}
		})
	}
	clients.Wait()
	return model, ops
}

func TestHistoriesOfManySocketsFitTheBoardsOwnFunction(t *testing.T) {
	model, ops := record(t)
	require.Equal(t, porcupine.Ok, porcupine.CheckOperationsTimeout(model, ops, testWait))

	refused, done := -1, -1
	for i, op := range ops {
		if op.Output.(answered).code != "" {
			refused = i
		} else {
			done = i
		}
	}
	require.NotEqual(t, -1, refused, "some must be refused, or nothing is shown")
	ops[refused].Output = ops[done].Output
	require.Equal(t, porcupine.Illegal, porcupine.CheckOperationsTimeout(model, ops, testWait), "a history with a refusal turned into a yes is seen")
}
