package main

import (
	"fmt"
	"sync"

	"pipstake/label/symbol/photo"
)

// seenOn is what was found on a photograph.
type seenOn struct {
	read, unread []photo.Code
	part         *photo.PartError // where only a part of it is there
}

// readPhoto looks at a photograph. The error says why nothing was looked for; one
// that the program falls over costs itself only.
func readPhoto(data []byte) (found seenOn, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			found, err = seenOn{}, fmt.Errorf("pipstake falls over it, which is a fault of the program (%v); take another picture, and report this one", fault)
		}
	}()
	defer photoMemory.take(photo.Cost(data))()
	return findCodes(data)
}

// findCodes is a variable for tests.
var findCodes = func(data []byte) (found seenOn, err error) {
	img, err := photo.Open(data)
	found.part, _ = err.(*photo.PartError)
	if err != nil && found.part == nil {
		return seenOn{}, err
	}
	found.read, found.unread = photo.Read(img)
	return found, nil
}

// photoMemory is for all photographs that are looked at together.
var photoMemory = newMemory(512 << 20)

// memory is shared out among those who say what they need. Whoever needs more
// than there is has all of it, and nobody else any.
type memory struct {
	mu        sync.Mutex
	freed     *sync.Cond
	all, left int64
}

func newMemory(bytes int64) *memory {
	m := &memory{all: bytes, left: bytes}
	m.freed = sync.NewCond(&m.mu)
	return m
}

// take waits until so many bytes are free, and returns what gives them back.
func (m *memory) take(bytes int64) (giveBack func()) {
	bytes = min(bytes, m.all)
	m.mu.Lock()
	defer m.mu.Unlock()
	for m.left < bytes {
		m.freed.Wait()
	}
	m.left -= bytes
	return func() {
		m.mu.Lock()
		defer m.mu.Unlock()
		m.left += bytes
		m.freed.Broadcast()
	}
}
