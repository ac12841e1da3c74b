// Package copies keeps copies of a running board away from its file: in folders, such
// as a stick or a share, and for other laptops that ask for them.
//
// A copy is made once, beside the board, and examined there; what goes to a folder or a
// laptop are its bytes. So a slow stick holds no reader of the board's file open, and
// one that hangs keeps up neither the board nor the other folders.
//
// A [Keeper] looks after one board. Each folder has a goroutine of its own.
package copies
