package board

import "fmt"

// A refusal is read in gloves and in a hurry, often aloud. Its sentence
//
//   - says what is wrong, then what to do now, in short sentences that end;
//   - names the people and things it is about, as the board names them;
//   - says what is so and blames nobody: no "you forgot", no "invalid";
//   - never calls a thing safe or clear by itself: a robot is made safe, by someone;
//   - carries the job that it names: of a finished one the board then says what it owes;
//   - leaves numbers and names of the wire to Rule and Field, which screens show.

// Code says in one word why a command was refused. Codes are part of the wire.
type Code string

// The codes.
const (
	CodeMalformed   Code = "malformed"    // the command could not be read
	CodeUnknown     Code = "unknown"      // no such command, or no such noun
	CodeForbidden   Code = "forbidden"    // not for this role or person
	CodeBadField    Code = "bad-field"    // a field's value cannot be
	CodeUnlikely    Code = "unlikely"     // it can be, but is hardly so: say it again with sure
	CodeTaken       Code = "taken"        // a name, number or place is in use
	CodeState       Code = "state"        // not from the state it is in
	CodeStale       Code = "stale"        // the noun has changed since it was seen
	CodeSafety      Code = "safety"       // a numbered safety rule forbids it
	CodeTooLate     Code = "too-late"     // the time for it is over
	CodeIDReused    Code = "id-reused"    // the command id was used for something else
	CodeReadOnly    Code = "read-only"    // the board cannot write to its disk
	CodeTooMany     Code = "too-many"     // slow down
	CodeRestarting  Code = "restarting"   // the board is shutting down
	CodeNeedProof   Code = "need-pin"     // the person must type their PIN
	CodeNotYet      Code = "not-yet"      // something else comes first
	CodeNothingToDo Code = "nothing-done" // it is so already
)

// Refusal is the answer to a command that may not happen. It is an answer, not a
// fault of the program, and so is not an error.
type Refusal struct {
	Code Code `json:"code"`
	// Rule is the number of the safety rule that speaks, or 0.
	Rule int `json:"rule,omitzero"`
	// RuleSays is that rule in a sentence, as the rulebook has it.
	RuleSays string `json:"ruleSays,omitzero"`
	// Field is the wire name of the field at fault, or "".
	Field string `json:"field,omitzero"`
	// Sentence says what is wrong and what to do now, in the user's words.
	Sentence string `json:"sentence"`
	// Job is the job it is about, where it names one. Where that job is finished, the
	// sentence ends with what it owes.
	Job JobID `json:"job,omitzero"`
	// Now holds, for CodeStale, the key of the noun that changed.
	Now Key `json:"now,omitzero"`
}

func refuse(code Code, sentence string, args ...any) *Refusal {
	return &Refusal{Code: code, Sentence: fmt.Sprintf(sentence, args...)}
}

func badField(field, sentence string, args ...any) *Refusal {
	return &Refusal{Code: CodeBadField, Field: field, Sentence: fmt.Sprintf(sentence, args...)}
}

func breaks(rule int, sentence string, args ...any) *Refusal {
	return &Refusal{Code: CodeSafety, Rule: rule, Sentence: fmt.Sprintf(sentence, args...)}
}

// of says which job a refusal is about.
func (bad *Refusal) of(j Job) *Refusal {
	bad.Job = j.ID
	return bad
}

func missing(what, field string) *Refusal {
	return &Refusal{Code: CodeUnknown, Field: field, Sentence: fmt.Sprintf("There is no such %s on the board. It may have been taken off: look again.", what)}
}

// first is the first refusal that is not nil.
func first(list ...*Refusal) *Refusal {
	for _, bad := range list {
		if bad != nil {
			return bad
		}
	}
	return nil
}
