package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"slices"
)

// common is how many colours of a drawing, the commonest, are kept as they are.
const common = 192

// encode writes a drawing with a palette of 256 colours, which takes a fifth of the time and
// half the bytes of full colour: its commonest, and of the others, at the rims of lines and
// letters, some spread among them; the rest is written as the nearest of those.
func encode(from image.Image) []byte {
	full := from.(*image.RGBA) // what vgimg draws on
	places, palette := paletteOf(full)
	small := image.NewPaletted(full.Rect, palette)
	each(full, func(c uint32, from, to int) {
		place := places[c]
		for i := from; i < to; i++ {
			small.Pix[i] = place
		}
	})
	var out bytes.Buffer
	if err := png.Encode(&out, small); err != nil {
		panic(err) // a buffer takes everything, a palette has 256 colours
	}
	return out.Bytes()
}

// each goes through runs of one colour, red before green before blue.
func each(m *image.RGBA, run func(c uint32, from, to int)) {
	at := func(i int) uint32 {
		p := m.Pix[4*i : 4*i+3 : 4*i+3]
		return uint32(p[0])<<16 | uint32(p[1])<<8 | uint32(p[2])
	}
	n := len(m.Pix) / 4
	for from := 0; from < n; {
		c, to := at(from), from+1
		for to < n && at(to) == c {
			to++
		}
		run(c, from, to)
		from = to
	}
}

// paletteOf chooses the palette and the place in it of every colour that there is.
func paletteOf(m *image.RGBA) (places map[uint32]uint8, palette color.Palette) {
	counts := map[uint32]int{}
	each(m, func(c uint32, from, to int) { counts[c] += to - from })
	list := make([]uint32, 0, len(counts))
	for c := range counts {
		list = append(list, c)
	}
	slices.SortFunc(list, func(a, b uint32) int {
		if d := counts[b] - counts[a]; d != 0 {
			return d
		}
		return int(a) - int(b)
	})
	places = make(map[uint32]uint8, len(list))
	if len(list) > 256 {
		rims := list[common:]
		slices.Sort(rims)
		for i := range 256 - common {
			k := i * len(rims) / (256 - common)
			rims[i], rims[k] = rims[k], rims[i]
		}
	}
	kept := list[:min(256, len(list))]
	for i, c := range kept {
		palette = append(palette, color.RGBA{uint8(c >> 16), uint8(c >> 8), uint8(c), 0xff}) // #nosec G115 -- one byte of three
		places[c] = uint8(i)
	}
	for _, c := range list[len(kept):] {
		best, least := 0, -1
		for i, k := range kept {
			if d := apart(c, k); least < 0 || d < least {
				best, least = i, d
			}
		}
		places[c] = uint8(best)
	}
	return places, palette
}

// apart is the square of the distance of two colours.
func apart(a, b uint32) int {
	sum := 0
	for shift := 0; shift < 24; shift += 8 {
		d := int(a>>shift&0xff) - int(b>>shift&0xff)
		sum += d * d
	}
	return sum
}
