// Package snapshot writes all data of one revision into a file and reads it back: for
// machines without a network, and to start while the database is away.
//
// The file is text at its head, so that a person sees what it is, and then compressed data:
//
//	swarf-snapshot 1
//	{"revision":7,"made":"2026-03-03T06:00:00Z",…}      the Header, one line
//	…                                                  the data: JSON, gzip
//	32 bytes                                           SHA-256 of all before
//	64 bytes                                           Ed25519 signature of all before, or zeros
//
// Every byte is under the checksum, and with a key under the signature: a file with any bit
// other than written is refused, and so is one that ends early or late. A reader that trusts
// a key takes nothing that is not signed with it; one without takes nothing that is signed.
package snapshot

import (
	"bytes"
	"compress/gzip"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"time"

	"swarf/domain/access"
	"swarf/domain/catalog"
)

// magic begins every file; the number is that of the layout.
const magic = "swarf-snapshot 1\n"

// Bounds of a file, so that a strange one costs little.
const (
	mostBytes  = 256 << 20 // of the file
	mostData   = 1 << 30   // of the data as JSON
	mostHeader = 4 << 10
	sumBytes   = sha256.Size
	tailBytes  = sumBytes + ed25519.SignatureSize
)

// Header says what a file holds.
type Header struct {
	Revision     int64     `json:"revision"`      // of the data
	Made         time.Time `json:"made"`          // when the data was read
	ModelVersion string    `json:"model_version"` // of the formulas beside it
	Shape        string    `json:"shape"`         // of the data's types: see shapeOf
	DataBytes    int64     `json:"data_bytes"`    // as JSON
	Signed       bool      `json:"signed"`
}

// Options is what stands beside the data.
type Options struct {
	Made         time.Time
	ModelVersion string
	Key          ed25519.PrivateKey // signs; nil leaves the checksum alone
	Callers      *access.Ring       // who may ask; nil in a file for others
}

// content is what is packed into a file.
type content struct {
	catalog.Data
	Callers *[]access.Key `json:",omitempty"` // absent in a file for others
}

// Encode makes a file of the data.
//
// Errors: data that is larger than a reader takes.
func Encode(d *catalog.Data, o Options) ([]byte, error) {
	all := content{Data: *d}
	if o.Callers != nil {
		keys := o.Callers.Keys()
		all.Callers = &keys
	}
	text, err := json.Marshal(&all)
	if err != nil {
		return nil, fmt.Errorf("the data cannot be written: %w", err)
	}
	header, err := json.Marshal(Header{Revision: d.Revision, Made: o.Made.UTC().Truncate(time.Second), ModelVersion: o.ModelVersion, Shape: shape,
		DataBytes: int64(len(text)), Signed: o.Key != nil})
	if err != nil {
		return nil, fmt.Errorf("the header cannot be written: %w", err)
	}
	var file bytes.Buffer
	file.WriteString(magic)
	file.Write(header)
	file.WriteByte('\n')
	packer := gzip.NewWriter(&file)
	if _, err := packer.Write(text); err != nil {
		return nil, err
	}
	if err := packer.Close(); err != nil {
		return nil, err
	}
	sum := sha256.Sum256(file.Bytes())
	file.Write(sum[:])
	signature := make([]byte, ed25519.SignatureSize)
	if o.Key != nil {
		signature = ed25519.Sign(o.Key, file.Bytes())
	}
	file.Write(signature)
	if file.Len() > mostBytes || len(text) > mostData {
		return nil, fmt.Errorf("a snapshot of %d bytes, %d of them data, is larger than a reader takes", file.Len(), len(text))
	}
	return file.Bytes(), nil
}

// Decode reads a file. With a key it must be signed with that; without one it must not be
// signed, and its checksum says that it is whole, not who wrote it.
//
// Errors: what is wrong with the file, and what to do.
func Decode(file []byte, trust ed25519.PublicKey) (*catalog.Data, Header, error) {
	all, header, err := unpack(file, trust)
	if err != nil {
		return nil, header, err
	}
	return &all.Data, header, nil
}

// unpack checks a file and reads all that is in it.
func unpack(file []byte, trust ed25519.PublicKey) (*content, Header, error) {
	header, packed, err := open(file, trust)
	if err != nil {
		return nil, Header{}, err
	}
	unpacker, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, header, fmt.Errorf("the data cannot be unpacked: %w", err)
	}
	unpacker.Multistream(false)
	text, err := io.ReadAll(io.LimitReader(unpacker, header.DataBytes+1))
	if err != nil {
		return nil, header, fmt.Errorf("the data cannot be unpacked: %w", err)
	}
	if int64(len(text)) != header.DataBytes {
		return nil, header, fmt.Errorf("the data is not as long as the header says")
	}
	data := new(content)
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(data); err != nil {
		return nil, header, fmt.Errorf("the data cannot be read: %w", err)
	}
	if data.Revision != header.Revision {
		return nil, header, fmt.Errorf("the header says revision %d, the data %d", header.Revision, data.Revision)
	}
	return data, header, nil
}

// open checks a file and takes it apart; the data stays packed.
func open(file []byte, trust ed25519.PublicKey) (Header, []byte, error) {
	var header Header
	switch {
	case len(file) > mostBytes:
		return header, nil, fmt.Errorf("the file has %d bytes, more than %d", len(file), mostBytes)
	case !bytes.HasPrefix(file, []byte(magic)):
		return header, nil, fmt.Errorf("the file is no snapshot of this layout: it does not begin with %q", magic[:len(magic)-1])
	case len(file) < len(magic)+tailBytes:
		return header, nil, fmt.Errorf("the file ends early")
	}
	end := len(file) - ed25519.SignatureSize
	body, sum, signature := file[:end-sumBytes], file[end-sumBytes:end], file[end:]
	if want := sha256.Sum256(body); !bytes.Equal(sum, want[:]) {
		return header, nil, fmt.Errorf("the checksum does not fit: the file is damaged or not whole; export it again")
	}
	line, packed, found := bytes.Cut(body[len(magic):], []byte{'\n'})
	if !found || len(line) > mostHeader {
		return header, nil, fmt.Errorf("the file has no header")
	}
	decoder := json.NewDecoder(bytes.NewReader(line))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&header); err != nil {
		return Header{}, nil, fmt.Errorf("the header cannot be read: %w", err)
	}
	switch {
	case trust != nil && !header.Signed:
		return header, nil, fmt.Errorf("the file is not signed; only files signed with the trusted key are taken")
	case trust == nil && header.Signed:
		return header, nil, fmt.Errorf("the file is signed; it is taken only with the key to check that")
	case trust != nil && !ed25519.Verify(trust, file[:end], signature):
		return header, nil, fmt.Errorf("the signature does not fit: the file is not from the holder of the trusted key, or was changed")
	case trust == nil && !bytes.Equal(signature, make([]byte, ed25519.SignatureSize)):
		return header, nil, fmt.Errorf("the place of the signature is damaged; export the file again")
	case header.Shape != shape:
		return header, nil, fmt.Errorf("the file was written by another version of the program, whose data has another shape; export it with this one")
	case header.DataBytes < 0 || header.DataBytes > mostData:
		return header, nil, fmt.Errorf("the header tells of %d bytes of data, outside 0 to %d", header.DataBytes, int64(mostData))
	}
	return header, packed, nil
}
