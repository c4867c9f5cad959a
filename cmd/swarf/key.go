package main

import (
	"context"
	"fmt"
	"os/user"
	"strings"
	"text/tabwriter"
	"time"

	"swarf/api"
	"swarf/db"
	"swarf/domain/access"
)

// keyUsage is the help of the command.
const keyUsage = `usage: swarf key make -name NAME -scopes read,compute,write [-expires 2160h] [-view]
       swarf key list
       swarf key rotate ID [-overlap 24h]
       swarf key revoke ID [-reason TEXT]

A key is printed once, when it is made or rotated; only a digest of it is kept. Scopes: ` + "read, compute, write,\napprove, admin" + `. With -view it is a token for the addresses of spreadsheets, which reads and computes.
`

// keys makes, lists, rotates and revokes keys in the database.
func keys(ctx context.Context, p *program, args []string) error {
	steps := map[string]func(context.Context, *program, *db.DB, []string) error{"make": makeKey, "list": listKeys, "rotate": rotateKey, "revoke": revokeKey}
	if len(args) == 0 || args[0] == "-h" || args[0] == "--help" || args[0] == "help" {
		fmt.Fprint(p.out, keyUsage)
		return nil
	}
	step, ok := steps[args[0]]
	if !ok {
		return fmt.Errorf("%w: there is no %q; it is make, list, rotate or revoke", errUsage, args[0])
	}
	if p.config.DatabaseURL == "" {
		return errNoDatabase
	}
	pg, err := db.Open(ctx, p.dbConfig())
	if err != nil {
		return err
	}
	defer pg.Close()
	if _, err := pg.CheckSchema(ctx); err != nil {
		return err
	}
	return step(ctx, p, pg, args[1:])
}

// operator is who runs the command, for the history.
func operator(command string) string {
	if who, err := user.Current(); err == nil && who.Username != "" {
		return command + " by " + who.Username
	}
	return command
}

func makeKey(ctx context.Context, p *program, pg *db.DB, args []string) error {
	var k access.Key
	set := p.flags("key make")
	set.StringVar(&k.Name, "name", "", "who it is, for the history; no other key may ever have it")
	set.BoolVar(&k.View, "view", false, "a token for addresses: it only reads and computes, by GET")
	scopes := set.String("scopes", "", "what it may do: some of "+strings.Join(access.ScopeNames(), ",")+"; read,compute for a view token")
	expires := set.Duration("expires", 0, "after how long it ends, such as 2160h; 0 is never")
	reason := set.String("reason", "", "why, for the history")
	if err := parse(set, args); err != nil {
		return err
	}
	now := time.Now()
	if *scopes == "" && k.View {
		k.Scopes = access.Viewing
	} else if *scopes != "" {
		var err error
		if k.Scopes, err = access.ParseScopes(strings.Split(*scopes, ",")); err != nil {
			return err
		}
	}
	if *expires != 0 {
		k.ExpiresUnix = now.Add(*expires).Unix()
	}
	if err := k.Check(now.Unix()); err != nil {
		return err
	}
	token := api.NewKey(&k, now)
	if err := pg.AddKey(ctx, k, db.Write{Who: operator("swarf key"), Reason: *reason}); err != nil {
		return err
	}
	fmt.Fprintln(p.out, token)
	p.log.Info("a key was made; it is shown this once", "id", k.ID, "name", k.Name, "scopes", k.Scopes)
	return nil
}

func listKeys(ctx context.Context, p *program, pg *db.DB, args []string) error {
	if err := parse(p.flags("key list"), args); err != nil {
		return err
	}
	list, err := pg.Keys(ctx)
	if err != nil {
		return err
	}
	day := func(unix int64) string {
		if unix == 0 {
			return "-"
		}
		return time.Unix(unix, 0).UTC().Format("2006-01-02 15:04Z")
	}
	table := tabwriter.NewWriter(p.out, 0, 8, 2, ' ', 0)
	fmt.Fprintln(table, "id\tname\tkind\tscopes\tstate\tmade\texpires\tlast used")
	for i := range list {
		k, kind := &list[i], "key"
		if k.View {
			kind = "view"
		}
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", k.ID, k.Name, kind, k.Scopes, k.State(time.Now().Unix()), day(k.MadeUnix), day(k.ExpiresUnix), day(k.UsedUnix))
	}
	return table.Flush()
}

// named takes the id of a key from the front of the arguments.
func named(args []string) (id string, rest []string, err error) {
	if len(args) == 0 || strings.HasPrefix(args[0], "-") {
		return "", nil, fmt.Errorf("%w: say which key by its id; swarf key list shows them", errUsage)
	}
	return args[0], args[1:], nil
}

func rotateKey(ctx context.Context, p *program, pg *db.DB, args []string) error {
	id, args, err := named(args)
	if err != nil {
		return err
	}
	set := p.flags("key rotate")
	overlap := set.Duration("overlap", 24*time.Hour, "how long the key before still serves; 0 ends it at once")
	reason := set.String("reason", "", "why, for the history")
	if err := parse(set, args); err != nil {
		return err
	}
	var token string
	if _, err := pg.ChangeKey(ctx, id, db.Write{Who: operator("swarf key"), Reason: *reason}, func(k *access.Key) (err error) {
		token, err = api.RotateKey(k, time.Now(), *overlap)
		return err
	}); err != nil {
		return err
	}
	fmt.Fprintln(p.out, token)
	return nil
}

func revokeKey(ctx context.Context, p *program, pg *db.DB, args []string) error {
	id, args, err := named(args)
	if err != nil {
		return err
	}
	set := p.flags("key revoke")
	reason := set.String("reason", "", "why, for the history")
	if err := parse(set, args); err != nil {
		return err
	}
	k, err := pg.ChangeKey(ctx, id, db.Write{Who: operator("swarf key"), Reason: *reason}, func(k *access.Key) error {
		if k.RevokedUnix == 0 {
			k.RevokedUnix = time.Now().Unix()
		}
		return nil
	})
	if err == nil {
		fmt.Fprintf(p.out, "%s (%s) is revoked\n", k.ID, k.Name)
	}
	return err
}
