package photo

import "strconv"

// Code says why an upload was refused. The values go over the wire.
type Code string

// The reasons for which Add and Open refuse.
const (
	TooBig        Code = "too-big"         // body over BodyBytesMost
	NotAPicture   Code = "not-a-picture"   // neither JPEG nor PNG by its first bytes
	TooManyPixels Code = "too-many-pixels" // over PixelsMost, or a side over SidePxMost
	CannotRead    Code = "cannot-read"     // a picture we cannot decode: damaged, cut short, HEIC
	BadID         Code = "bad-id"          // not a lower-case UUID with hyphens
)

// Refused is the error for an upload or an id that the sender must change;
// every other error of this package is ours or the connection's.
type Refused struct {
	Code     Code
	Sentence string // for people: what is wrong and what to do now
	Cause    error  // what the decoder said; may be nil, never for people
}

func (r *Refused) Error() string {
	text := "photo refused: " + string(r.Code)
	if r.Cause != nil {
		text += ": " + r.Cause.Error()
	}
	return text
}

// Unwrap gives the decoder's error.
func (r *Refused) Unwrap() error { return r.Cause }

func refuseTooBig() *Refused {
	return &Refused{Code: TooBig, Sentence: "This photo is over " + strconv.Itoa(BodyBytesMost>>20) +
		" MiB. Send a screenshot of it, or take it again at a lower resolution."}
}

func refuseNotAPicture() *Refused {
	return &Refused{Code: NotAPicture, Sentence: "This is neither a JPEG nor a PNG picture. Send a photo or a screenshot."}
}

func refuseHEIC() *Refused {
	return &Refused{Code: CannotRead, Sentence: "This photo is in the HEIC format, which the board cannot read. " +
		"Send a screenshot of it instead."}
}

func refuseTooManyPixels(widthPx, heightPx int) *Refused {
	return &Refused{Code: TooManyPixels, Sentence: "This picture is " + strconv.Itoa(widthPx) + " × " + strconv.Itoa(heightPx) +
		" pixels; the board takes up to 25 megapixels and " + strconv.Itoa(SidePxMost) +
		" pixels a side. Send a screenshot of it, or take it again at a lower resolution."}
}

func refuseTooHeavy() *Refused {
	return &Refused{Code: TooManyPixels, Sentence: "Opening this picture takes more memory than the board has for one. " +
		"Send a screenshot of it, or take it again at a lower resolution."}
}

func refuseUnreadable(cause error) *Refused {
	return &Refused{Code: CannotRead, Cause: cause,
		Sentence: "This picture is damaged or was cut short. Send it again, or send a screenshot of it."}
}

func refuseBadID() *Refused {
	return &Refused{Code: BadID, Sentence: "A photo is named by a lower-case UUID with hyphens, and nothing else."}
}
