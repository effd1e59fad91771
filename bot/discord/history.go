package discord

import (
	"cmp"
	"context"
	"errors"
	"net/http"
	"slices"
	"strconv"
	"time"

	"rungbook/bot/outbox"
)

// pageSize is the platform's most for a page of history.
const pageSize = 100

// history reads one page, newest first: the messages next to the one named by
// after.
func (a *api) history(ctx context.Context, channel, after snowflake) (page []message, err error) {
	query := "?limit=" + strconv.Itoa(pageSize) + "&after=" + after.String()
	err = a.call(ctx, "GET", "channels/"+channel.String()+"/messages"+query, nil, nil, &page)
	return page, err
}

// message reads one message.
func (a *api) message(ctx context.Context, channel, id snowflake) (m message, err error) {
	err = a.call(ctx, "GET", messagePath(channel, id), nil, nil, &m)
	return m, err
}

// historyFrom reads all messages of a channel after the one named, oldest first.
// Where the history may not be read there are none: see endsEmpty.
func (a *api) historyFrom(ctx context.Context, id, from snowflake) ([]message, error) {
	var all []message
	for {
		page, err := a.historyPage(ctx, id, from)
		if err != nil {
			return nil, err
		}
		all = append(all, page...)
		if len(page) < pageSize {
			return all, nil
		}
		from = page[len(page)-1].ID
	}
}

// endsEmpty reports whether the last page that a history was read from was empty.
// That is how it ends by chance, and how the platform answers whoever may not read
// it, from the first page on or from one in between.
func endsEmpty(history []message) bool { return len(history)%pageSize == 0 }

// historyPage reads the page after the message, oldest first: what was missed must
// be read.
func (a *api) historyPage(ctx context.Context, id, from snowflake) (page []message, err error) {
	err = patiently(ctx, func() error {
		page, err = a.history(ctx, id, from)
		return err
	})
	slices.SortFunc(page, func(x, y message) int { return cmp.Compare(x.ID, y.ID) })
	return page, err
}

// patientTries bounds how often something is asked for again.
const patientTries = 6

// patiently asks for what must be known: it waits for a limit, and tries again for a
// while after a fault. The error is that of the last try, or the context's.
func patiently(ctx context.Context, ask func() error) error {
	for try := 1; ; try++ {
		err := ask()
		var rate *outbox.RateError
		var final *refusal
		switch {
		case err == nil:
			return nil
		case errors.As(err, &rate):
			err = outbox.Sleep(ctx, rate.After)
		case errors.As(err, &final) && final.status < http.StatusInternalServerError || try == patientTries || ctx.Err() != nil:
			return err
		default:
			err = outbox.Sleep(ctx, time.Duration(try)*200*time.Millisecond)
		}
		if err != nil {
			return err
		}
	}
}
