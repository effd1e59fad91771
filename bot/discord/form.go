package discord

import (
	"context"
	"strings"

	"rungbook/bot/slash"
	"rungbook/bot/words"
)

// formField is an input of a form.
type formField struct {
	name, label, example string
	long, must           bool
}

// forms are what is asked for on a form, by command: those that ask for more
// than fits the command line well.
var forms = map[string][]formField{
	"coach correct": {
		{name: "day", label: words.FieldDay, example: words.ExampleDay, must: true},
		{name: "text", label: words.FieldText, example: words.ExampleText, long: true, must: true},
	},
	"setup": {
		{name: "zone", label: words.FieldZone, example: words.ExampleZone, must: true},
		{name: "days", label: words.FieldDays, example: words.ExampleDays, must: true},
		{name: "nudge", label: words.FieldNudge, example: words.ExampleNudge},
		{name: "digest", label: words.FieldDigest, example: words.ExampleDigest},
	},
}

// needsForm reports whether a command was given without what its form asks for.
func needsForm(i *interaction) bool {
	name, options := i.command()
	if i.Guild == 0 || forms[name] == nil {
		return false
	}
	given := map[string]bool{}
	for _, o := range options {
		given[o.Name] = true
	}
	if name == "setup" {
		return len(options) == 0
	}
	for _, field := range forms[name] {
		if field.must && !given[field.name] {
			return true
		}
	}
	return false
}

// openForm shows the form of a command. What was given already travels in its
// custom_id (a member) or stands in its fields.
func (a *Adapter) openForm(ctx context.Context, i *interaction) error {
	name, options := i.command()
	given, kept := map[string]string{}, ""
	for _, o := range options {
		given[o.Name] = o.text()
		if o.Type == optionUser {
			kept += ":" + o.Name + "=" + o.text()
		}
	}
	var rows []any
	for _, field := range forms[name] {
		input := map[string]any{
			"type": componentInput, "custom_id": field.name, "label": field.label, "style": inputShort,
			"required": field.must, "placeholder": field.example,
		}
		if field.long {
			input["style"], input["max_length"] = inputParagraph, mostText
		}
		if value := given[field.name]; value != "" {
			input["value"] = value
		}
		rows = append(rows, actionRow([]any{input}))
	}
	form := map[string]any{"custom_id": "form:" + name + kept, "title": "/" + name, "components": rows}
	_, err := a.api.respond(ctx, i, answerForm, form, nil)
	return ignoreOver(err)
}

// submitted is a form sent back, as the command it stands for.
func (i *interaction) submitted() string {
	parts := strings.Split(i.Data.CustomID, ":")
	if len(parts) < 2 || forms[parts[1]] == nil {
		return "/help"
	}
	var pairs []slash.Pair
	for _, kept := range parts[2:] {
		name, id, _ := strings.Cut(kept, "=")
		pairs = append(pairs, slash.Pair{Name: name, Value: "<@" + id + ">"})
	}
	values := map[string]string{}
	collect(i.Data.Components, values)
	for _, field := range forms[parts[1]] {
		if value := strings.TrimSpace(values[field.name]); value != "" {
			pairs = append(pairs, slash.Pair{Name: field.name, Value: value})
		}
	}
	return slash.Line(parts[1], pairs...)
}

func collect(fields []field, into map[string]string) {
	for _, f := range fields {
		if f.CustomID != "" {
			into[f.CustomID] = f.Value
		}
		collect(f.Components, into)
	}
}
