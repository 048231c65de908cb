package picture_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"boottop.example/practice/domain"
	"boottop.example/practice/domain/practice"
	"boottop.example/practice/store/picture"
)

var _ practice.Pictures = picture.Maker{}

// corners is a picture whose quarters are red, green, blue and white, from the upper
// left clockwise, so that any turn shows.
func corners(w, h int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			switch {
			case y < h/2 && x < w/2:
				img.Set(x, y, color.NRGBA{255, 0, 0, 255})
			case y < h/2:
				img.Set(x, y, color.NRGBA{0, 255, 0, 255})
			case x >= w/2:
				img.Set(x, y, color.NRGBA{0, 0, 255, 255})
			default:
				img.Set(x, y, color.NRGBA{255, 255, 255, 255})
			}
		}
	}
	return img
}

// names reads the quarters of a picture from the upper left clockwise.
func names(t *testing.T, img image.Image) string {
	t.Helper()
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	at := func(x, y int) string {
		r, g, b, _ := img.At(x, y).RGBA()
		switch {
		case r > 40000 && g > 40000:
			return "w"
		case r > g && r > b:
			return "r"
		case g > b:
			return "g"
		}
		return "b"
	}
	return at(w/4, h/4) + at(3*w/4, h/4) + at(3*w/4, 3*h/4) + at(w/4, 3*h/4)
}

func asJPEG(t *testing.T, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asPNG(t *testing.T, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// withExif puts an EXIF block behind a JPEG's first marker: an orientation, a camera's
// serial number in the maker's name, and a position.
func withExif(plain []byte, orientation uint16) []byte {
	be := binary.BigEndian
	tiff := []byte{'M', 'M', 0, 42, 0, 0, 0, 8}
	maker := "SERIAL-4711\x00"
	entry := func(tag, kind uint16, count uint32, value []byte) []byte {
		e := be.AppendUint16(nil, tag)
		e = be.AppendUint16(e, kind)
		e = be.AppendUint32(e, count)
		return append(e, append(value, 0, 0, 0, 0)[:4]...)
	}
	after := uint32(8 + 2 + 3*12 + 4)
	tiff = be.AppendUint16(tiff, 3)
	tiff = append(tiff, entry(0x010f, 2, uint32(len(maker)), be.AppendUint32(nil, after))...)
	tiff = append(tiff, entry(0x0112, 3, 1, be.AppendUint16(nil, orientation))...)
	tiff = append(tiff, entry(0x8825, 4, 1, be.AppendUint32(nil, after+uint32(len(maker))))...)
	tiff = be.AppendUint32(tiff, 0)
	tiff = append(tiff, maker...)
	tiff = be.AppendUint16(tiff, 1)
	tiff = append(tiff, entry(0x0001, 2, 2, []byte("N\x00"))...)
	tiff = be.AppendUint32(tiff, 0)
	body := append([]byte("Exif\x00\x00"), tiff...)
	out := append([]byte{}, plain[:2]...)
	out = append(out, 0xff, 0xe1)
	out = be.AppendUint16(out, uint16(len(body)+2))
	return append(append(out, body...), plain[2:]...)
}

func TestCopiesStandUpright(t *testing.T) {
	t.Parallel()
	plain := asJPEG(t, corners(60, 40))
	// What each orientation shows of the stored picture rgbw: CIPA DC-008, tag 0x0112.
	for orientation, want := range map[uint16]string{1: "rgbw", 2: "grwb", 3: "bwrg", 4: "wbgr", 5: "rwbg", 6: "wrgb", 7: "bgrw", 8: "gbwr", 0: "rgbw", 9: "rgbw"} {
		t.Run(fmt.Sprint(orientation), func(t *testing.T) {
			t.Parallel()
			c, err := picture.Maker{}.Copies(withExif(plain, orientation))
			if err != nil {
				t.Fatal(err)
			}
			view, err := jpeg.Decode(bytes.NewReader(c.View))
			if err != nil {
				t.Fatal(err)
			}
			if got := names(t, view); got != want {
				t.Errorf("shows %s, want %s", got, want)
			}
			turned := orientation >= 5 && orientation <= 8
			if wide := c.Width > c.Height; wide == turned || view.Bounds().Dx() != c.Width {
				t.Errorf("is %d × %d, the view %v", c.Width, c.Height, view.Bounds())
			}
		})
	}
}

// Promise 61.
func TestNothingButThePictureIsInACopy(t *testing.T) {
	t.Parallel()
	original := append(withExif(asJPEG(t, corners(60, 40)), 1), "PK\x03\x04 a zip behind it <html>"...)
	if !bytes.Contains(original, []byte("SERIAL-4711")) {
		t.Fatal("the original lacks what is looked for")
	}
	c, err := picture.Maker{}.Copies(original)
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range map[string][]byte{"view": c.View, "thumb": c.Thumb} {
		for _, word := range []string{"Exif", "SERIAL", "PK\x03\x04", "html"} {
			if bytes.Contains(b, []byte(word)) {
				t.Errorf("%s holds %q", name, word)
			}
		}
	}
}

func TestCopiesAreAtMostSoLarge(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{5000, 3000}, {3000, 5000}, {2000, 1500}, {1, 65535}, {4100, 2}, {3, 2}} {
		c, err := picture.Maker{}.Copies(asPNG(t, corners(size[0], size[1])))
		if err != nil {
			t.Fatal(size, err)
		}
		view, _, err := image.DecodeConfig(bytes.NewReader(c.View))
		if err != nil {
			t.Fatal(size, err)
		}
		thumb, _, err := image.DecodeConfig(bytes.NewReader(c.Thumb))
		if err != nil {
			t.Fatal(size, err)
		}
		long := max(size[0], size[1])
		if got := max(view.Width, view.Height); got != min(long, picture.ViewSide) {
			t.Errorf("%v: the view is %d × %d", size, view.Width, view.Height)
		}
		if got := max(thumb.Width, thumb.Height); got != min(long, picture.ThumbSide) {
			t.Errorf("%v: the thumb is %d × %d", size, thumb.Width, thumb.Height)
		}
	}
}

func TestEveryUsualKindIsShown(t *testing.T) {
	t.Parallel()
	grey := image.NewGray16(image.Rect(0, 0, 40, 30))
	deep := image.NewNRGBA64(image.Rect(0, 0, 40, 30))
	clear := image.NewNRGBA(image.Rect(0, 0, 40, 30)) // nothing drawn: white where it is clear
	webp := []byte("RIFF\x1a\x00\x00\x00WEBPVP8L\x0d\x00\x00\x00\x2f\x00\x00\x00\x10\x07\x10\x11\x11\x88\x88\xfe\x07\x00")
	for name, b := range map[string][]byte{"grey 16": asPNG(t, grey), "deep": asPNG(t, deep), "clear": asPNG(t, clear), "grey": asJPEG(t, image.NewGray(image.Rect(0, 0, 9, 9))), "webp": webp} {
		c, err := picture.Maker{}.Copies(b)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		view, err := jpeg.Decode(bytes.NewReader(c.View))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if r, _, _, _ := view.At(0, 0).RGBA(); name == "clear" && r < 60000 {
			t.Errorf("what is clear is shown as %v", view.At(0, 0))
		}
	}
}

// header is a PNG's head that claims a size, with nothing behind it: promise 48.
func header(w, h uint32, depth, kind byte) []byte {
	be := binary.BigEndian
	chunk := []byte("IHDR")
	chunk = be.AppendUint32(chunk, w)
	chunk = be.AppendUint32(chunk, h)
	chunk = append(chunk, depth, kind, 0, 0, 0)
	b := append([]byte("\x89PNG\r\n\x1a\n"), 0, 0, 0, 13)
	b = append(b, chunk...)
	return be.AppendUint32(b, crc32.ChecksumIEEE(chunk))
}

func TestWhatCannotBeShownIsRefusedWithAReason(t *testing.T) {
	t.Parallel()
	whole := asJPEG(t, corners(60, 40))
	var moving bytes.Buffer
	if err := gif.Encode(&moving, corners(8, 8), nil); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		b    []byte
		says string
	}{
		"900 million pixels":        {header(30000, 30000, 8, 2), "million pixels"},
		"16 bits a colour":          {header(7000, 7000, 16, 6), "too much room"},
		"no width":                  {header(0, 10, 8, 2), ""},
		"a GIF":                     {moving.Bytes(), "JPEG, PNG"},
		"an SVG":                    {[]byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`), "JPEG, PNG"},
		"a page":                    {[]byte("<html>"), "JPEG, PNG"},
		"nothing":                   {nil, "JPEG, PNG"},
		"half of it":                {whole[:len(whole)/2], "damaged"},
		"a head and a page":         {append(bytes.Clone(whole[:4]), "<html><script>"...), "damaged"},
		"a GIF that says it is not": {append([]byte("GIF89a/*"), whole...), "JPEG, PNG"},
	} {
		got, err := picture.Maker{}.Copies(c.b)
		if domain.KindOf(err) != domain.Invalid || !strings.Contains(err.Error(), c.says) || got.View != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func FuzzCopies(f *testing.F) {
	var b bytes.Buffer
	_ = jpeg.Encode(&b, corners(16, 12), nil)
	f.Add(b.Bytes())
	f.Add(withExif(b.Bytes(), 6))
	f.Add(header(300, 300, 8, 2))
	f.Fuzz(func(t *testing.T, raw []byte) {
		c, err := picture.Maker{}.Copies(raw)
		if err == nil && (len(c.View) == 0 || len(c.Thumb) == 0) {
			t.Error("no copy, no fault")
		}
		if err != nil && domain.KindOf(err) != domain.Invalid {
			t.Errorf("unclassified: %v", err)
		}
	})
}

func BenchmarkCopiesOf12Megapixels(b *testing.B) {
	var raw bytes.Buffer
	if err := jpeg.Encode(&raw, corners(4032, 3024), nil); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (picture.Maker{}).Copies(raw.Bytes()); err != nil {
			b.Fatal(err)
		}
	}
}
