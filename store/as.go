package store

import "context"

// As is the database as a package asks for it that knows no store: its
// transactions are given as T, an interface of that package's own that *Tx
// satisfies. A T that *Tx does not satisfy panics at the first transaction.
type As[T any] struct{ *DB }

// Update is DB.Update.
func (a As[T]) Update(ctx context.Context, do func(T) error) error {
	return a.DB.Update(ctx, func(tx *Tx) error { return do(any(tx).(T)) })
}

// View is DB.View.
func (a As[T]) View(ctx context.Context, do func(T) error) error {
	return a.DB.View(ctx, func(tx *Tx) error { return do(any(tx).(T)) })
}
