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

// historyFrom reads all messages of a channel after the one named, oldest first.
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

// historyTries bounds how often a page is asked for again.
const historyTries = 6

// historyPage reads the page after the message, oldest first. It waits for a limit
// and tries again for a while after a fault: what was missed must be read.
func (a *api) historyPage(ctx context.Context, id, from snowflake) ([]message, error) {
	for try := 1; ; try++ {
		page, err := a.history(ctx, id, from)
		var rate *outbox.RateError
		var final *refusal
		switch {
		case err == nil:
			slices.SortFunc(page, func(x, y message) int { return cmp.Compare(x.ID, y.ID) })
			return page, nil
		case errors.As(err, &rate):
			err = sleep(ctx, rate.After)
		case errors.As(err, &final) && final.status < http.StatusInternalServerError || try == historyTries || ctx.Err() != nil:
			return nil, err
		default:
			err = sleep(ctx, time.Duration(try)*200*time.Millisecond)
		}
		if err != nil {
			return nil, err
		}
	}
}
