package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/netip"
	"os"
	"os/signal"
	"strconv"
	"strings"
	"syscall"
	"time"

	"pipstake/cmd/pipstake/fieldpage"
	"pipstake/cmd/pipstake/serve"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/symbol"
)

// The field page for phones that open no files: handed to them over the network at
// hand, for as long as this command runs.

// idleFor is after how long without a phone the page is served no more.
const idleFor = time.Hour

// servePage hands the page to phones until it is ended, and records what they send.
func (e *env) servePage(dirFlag, at string, form fieldpage.Form) error {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	return e.serveUntil(ctx, dirFlag, at, form)
}

// serveUntil is servePage until ctx is done.
func (e *env) serveUntil(ctx context.Context, dirFlag, at string, form fieldpage.Form) error {
	r, err := e.openMarked(dirFlag)
	if err != nil {
		return err
	}
	place, others, err := placeToServe(at)
	if err != nil {
		return err
	}
	d := &desk{env: e, dir: r.Dir()}
	form.Served = true
	s := &serve.Server{Idle: idleFor, Take: d.take, Page: func(w io.Writer) error { return e.pageNow(w, r.Dir(), form) }}
	l, err := s.Listen(place)
	if err != nil && place.Port == serve.UsualPort && at == "" {
		e.Notice("port %d is in use, so another one serves: what a phone kept for the page of another day is not seen there", place.Port)
		place.Port = 0
		l, err = s.Listen(place)
	}
	if err != nil {
		return problem.Failure(fmt.Sprintf("cannot listen at %s: %s", place.Addr(), problem.Reason(err)), "name another place with --at, such as --at "+place.IP.String()+":8500")
	}
	if err := e.tellServed(s.Address(), others); err != nil {
		_ = l.Close()
		return err
	}
	why := s.Serve(ctx, l)
	return e.tellServedOut(why, d.recorded)
}

// pageNow writes the page of the registry as it stands now.
func (e *env) pageNow(w io.Writer, dir string, form fieldpage.Form) error {
	r, err := registry.Open(dir)
	if err != nil {
		return err
	}
	return fieldpage.Write(w, fieldpage.SeasonOf(r, registry.DateOf(e.now())), form)
}

// placeToServe is where the page is served: at the address that is named, else at
// that of this computer which leads onward. Others are those left over.
func placeToServe(at string) (place serve.Place, others []serve.Place, err error) {
	places, err := serve.Places()
	if err != nil {
		return serve.Place{}, nil, problem.Failure("the addresses of this computer cannot be read: "+problem.Reason(err), "name one with --at")
	}
	if at == "" {
		if len(places) == 0 {
			return serve.Place{}, nil, problem.Use("this computer is in no network of one's own", "join the network that the phone is in, or write the page as a file with --out")
		}
		return places[0], places[1:], nil
	}
	address, port, hasPort := strings.Cut(at, ":")
	if strings.Count(at, ":") > 1 { // of IPv6
		address, port, hasPort = strings.Trim(at, "[]"), "", false
	}
	ip, err := netip.ParseAddr(address)
	if err != nil {
		return serve.Place{}, nil, problem.Use(fmt.Sprintf("--at %q is no address", at), "give one of this computer's: "+addressesOf(places))
	}
	place, known := serve.PlaceOf(ip)
	if !known {
		return serve.Place{}, nil, problem.Use(fmt.Sprintf("--at %q is no address of this computer in a network of one's own", at), "give one of these: "+addressesOf(places))
	}
	if hasPort {
		n, err := strconv.ParseUint(port, 10, 16)
		if err != nil || 0 < n && n < 1024 {
			return serve.Place{}, nil, problem.Use(fmt.Sprintf("--at %q: the port is no number from 1024 to 65535", at), "leave it out, or give such as "+address+":8500; 0 is any that is free")
		}
		place.Port = uint16(n)
	}
	return place, nil, nil
}

// addressesOf lists addresses: "192.168.1.20 and 10.0.0.3".
func addressesOf(places []serve.Place) string {
	if len(places) == 0 {
		return "127.0.0.1, which only this computer reaches"
	}
	var all []string
	for _, p := range places {
		all = append(all, p.IP.String())
	}
	return words.List(all)
}

// tellServed says where the page is, on a terminal with the code of the address.
func (e *env) tellServed(address string, others []serve.Place) error {
	e.Say("%s", address)
	shown := false
	// Codes of labels hold no brackets, so there is none of an IPv6 address.
	if code, err := symbol.Encode(symbol.QR, 'M', strings.ToUpper(address), 1, 300); err == nil {
		const quiet = 4 // modules, of ISO/IEC 18004
		shown = e.SayModules(code.Size, quiet, code.Dark)
	}
	if shown {
		e.Remark("scan this with a phone that is in the same network; where it opens nothing, type the address")
	} else {
		e.Remark("open this address on a phone that is in the same network")
	}
	if len(others) > 0 {
		e.Notice("this computer has other addresses as well, %s: where the phone does not come through, serve at another one with --at", addressesOf(others))
	}
	e.Notice("it is plain http: whoever else is in the network can read what is sent, so use one that has a password and that you know")
	if e.dryRun {
		e.Remark("nothing of what phones enter is recorded")
	} else {
		e.Remark("what phones enter is recorded at once, and stands below")
	}
	e.Remark("Ctrl-C ends it; it ends by itself after an hour without a phone")
	return e.Flush()
}

// tellServedOut says why the page is served no more, and what came of it.
func (e *env) tellServedOut(why error, recorded int) error {
	switch {
	case errors.Is(why, serve.ErrStopped):
		if e.onTerminal {
			e.Remark("") // behind the ^C that it shows
		}
		e.Remark("ended")
	case errors.Is(why, serve.ErrIdle):
		e.Remark("ended: no phone was there for an hour")
	default:
		return problem.Failure("the page is served no more: "+problem.Reason(why), "start it again; what phones have kept is sent then")
	}
	if recorded == 0 {
		e.Say("nothing was recorded")
		return nil
	}
	e.Say("%s recorded", words.Plural(recorded, "entry", "entries"))
	e.Next("look at them: pipstake history; to take the last one back: pipstake undo")
	return nil
}
