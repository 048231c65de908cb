// Package picture makes the copies of a photo that are shown: JPEG, upright, at most so
// large, and nothing in them but the picture. It implements practice.Pictures.
//
// What a camera writes beside the picture (where, when, with which serial number, a
// small picture of what was cut away) does not pass: a copy is drawn anew from pixels.
// Colour profiles do not pass either, so that a wide-gamut original looks a little paler.
package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"

	"github.com/bep/imagemeta"
	"golang.org/x/image/draw"
	"golang.org/x/image/webp"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
)

// The longest sides of the copies, in pixels.
const (
	ViewSide  = 2000
	ThumbSide = 400
)

// The most that is decoded. An open picture takes some bytes a pixel, and a progressive
// JPEG far more while it is read.
const (
	maxPixels      = 60e6
	maxProgressive = 24e6
	maxOpenBytes   = 256 << 20
)

// Maker makes copies of photos.
type Maker struct{}

// format is a kind of file that can be shown, by the bytes it begins with. Others, GIF
// among them, are never handed to a decoder.
type format struct {
	kind   imagemeta.ImageFormat
	begins func([]byte) bool
	config func(io.Reader) (image.Config, error)
	decode func(io.Reader) (image.Image, error)
}

var formats = []format{
	{imagemeta.JPEG, func(b []byte) bool { return bytes.HasPrefix(b, []byte("\xff\xd8\xff")) }, jpeg.DecodeConfig, jpeg.Decode},
	{imagemeta.PNG, func(b []byte) bool { return bytes.HasPrefix(b, []byte("\x89PNG\r\n\x1a\n")) }, png.DecodeConfig, png.Decode},
	{imagemeta.WebP, func(b []byte) bool { return len(b) > 12 && string(b[:4]) == "RIFF" && string(b[8:12]) == "WEBP" }, webp.DecodeConfig, webp.Decode},
}

// Copies implements practice.Pictures. Sizes are looked at before anything is decoded.
func (Maker) Copies(original []byte) (practice.Copies, error) {
	for _, f := range formats {
		if f.begins(original) {
			return f.copies(original)
		}
	}
	return practice.Copies{}, refuse("This is no photo that can be shown. Send JPEG, PNG, WebP or HEIC.")
}

func refuse(text string, args ...any) error { return domain.Invalidf("upload", text, args...) }

func (f format) copies(original []byte) (practice.Copies, error) {
	config, err := f.config(bytes.NewReader(original))
	if err != nil {
		return practice.Copies{}, refuse("The photo cannot be opened: it is damaged or cut off.")
	}
	if err := fits(config, f.kind == imagemeta.JPEG && progressive(original)); err != nil {
		return practice.Copies{}, err
	}
	img, err := f.decode(bytes.NewReader(original))
	if err != nil {
		return practice.Copies{}, refuse("The photo cannot be opened: it is damaged or cut off.")
	}
	turn := orientation(original, f.kind)
	c := practice.Copies{Width: config.Width, Height: config.Height}
	if turn >= 5 {
		c.Width, c.Height = c.Height, c.Width
	}
	view := upright(shrink(img, ViewSide), turn)
	c.ViewWidth, c.ViewHeight = view.Bounds().Dx(), view.Bounds().Dy()
	if c.View, err = encode(view, 85); err != nil {
		return c, err
	}
	c.Thumb, err = encode(shrink(view, ThumbSide), 78)
	return c, err
}

// fits refuses what would take too much memory to open.
func fits(c image.Config, progressive bool) error {
	if c.Width < 1 || c.Height < 1 {
		return refuse("The photo has no size.")
	}
	pixels := float64(c.Width) * float64(c.Height)
	switch {
	case pixels > maxPixels:
		return refuse("The photo has %.0f million pixels; at most 60 million can be shown. Send a smaller copy.", pixels/1e6)
	case progressive && pixels > maxProgressive:
		return refuse("The photo is a progressive JPEG of %.0f million pixels; at most 24 million of such can be shown. Send a plain JPEG.", pixels/1e6)
	case pixels*bytesEach(c.ColorModel) > maxOpenBytes:
		return refuse("The photo takes too much room once it is open. Send a copy with 8 bits a colour.")
	}
	return nil
}

// bytesEach tells how many bytes a pixel takes once decoded.
func bytesEach(m color.Model) float64 {
	switch m {
	case color.NRGBA64Model, color.RGBA64Model:
		return 8
	case color.YCbCrModel:
		return 3
	case color.GrayModel:
		return 1
	case color.Gray16Model:
		return 2
	}
	return 4
}

// progressive finds out whether a JPEG is, from its markers up to the first frame.
func progressive(b []byte) bool {
	for at := 2; at+4 <= len(b) && b[at] == 0xff; {
		marker := b[at+1]
		switch {
		case marker == 0xff: // fill
			at++
			continue
		case marker == 0xc2:
			return true
		case marker == 0xc0 || marker == 0xc1 || marker == 0xda:
			return false
		}
		at += 2 + int(b[at+2])<<8 + int(b[at+3])
	}
	return false
}

// orientation reads which way up the picture is, 1 to 8 as EXIF counts; 1 where nothing
// sensible says otherwise.
func orientation(original []byte, kind imagemeta.ImageFormat) int {
	turn := 1
	_, err := imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(original), ImageFormat: kind, Sources: imagemeta.EXIF,
		ShouldHandleTag: func(tag imagemeta.TagInfo) bool { return tag.Tag == "Orientation" && tag.Namespace == "IFD0" },
		HandleTag: func(tag imagemeta.TagInfo) error {
			if n, ok := tag.Value.(uint16); ok && n >= 1 && n <= 8 {
				turn = int(n)
			}
			return imagemeta.ErrStopWalking
		},
	})
	if err != nil {
		return 1
	}
	return turn
}

// shrink draws a picture on white so that its longer side has at most so many pixels.
// Halving first keeps fine lines, such as cracks, from falling between the samples: at
// two to one the sampler takes the mean of four.
func shrink(img image.Image, side int) image.Image {
	for w, h := size(img); max(w, h) >= 2*side; w, h = size(img) {
		img = drawn(img, (w+1)/2, (h+1)/2)
	}
	w, h := size(img)
	if long := max(w, h); long > side {
		return drawn(img, max(1, (w*side+long/2)/long), max(1, (h*side+long/2)/long))
	}
	return drawn(img, w, h)
}

func size(img image.Image) (w, h int) { return img.Bounds().Dx(), img.Bounds().Dy() }

func drawn(img image.Image, w, h int) *image.RGBA {
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(dst, dst.Bounds(), image.White, image.Point{}, draw.Src)
	draw.ApproxBiLinear.Scale(dst, dst.Bounds(), img, img.Bounds(), draw.Over, nil)
	return dst
}

// upright turns a picture as EXIF's orientation says (CIPA DC-008, tag 0x0112).
func upright(img image.Image, turn int) image.Image {
	if turn == 1 {
		return img
	}
	src := img.(*image.RGBA) // shrink drew it
	w, h := size(src)
	dw, dh := w, h
	if turn >= 5 {
		dw, dh = h, w
	}
	dst := image.NewRGBA(image.Rect(0, 0, dw, dh))
	for y := range dh {
		for x := range dw {
			sx, sy := from(turn, x, y, w, h)
			copy(dst.Pix[dst.PixOffset(x, y):][:4], src.Pix[src.PixOffset(sx, sy):][:4])
		}
	}
	return dst
}

// from finds the pixel of a picture w by h that an upright one shows at x, y.
func from(turn, x, y, w, h int) (sx, sy int) {
	switch turn {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return y, h - 1 - x
	case 7:
		return w - 1 - y, h - 1 - x
	default: // 8
		return w - 1 - y, x
	}
}

func encode(img image.Image, quality int) ([]byte, error) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("write copy: %w", err)
	}
	return b.Bytes(), nil
}
