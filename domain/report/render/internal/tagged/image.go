package tagged

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	_ "image/jpeg" // the form photos are printed in

	folio "github.com/carlos7ags/folio/image"
)

// ErrImage is returned for pictures that cannot be printed.
var ErrImage = errors.New("not a JPEG in RGB or grey")

// Image is a picture of the document.
type Image struct {
	name string
	src  *folio.Image
	used bool
}

// JPEG adds a picture; its bytes pass into the file as they are.
func (d *Document) JPEG(b []byte) (*Image, error) {
	head, format, err := image.DecodeConfig(bytes.NewReader(b))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrImage, err)
	}
	if format != "jpeg" || head.ColorModel != color.YCbCrModel && head.ColorModel != color.GrayModel {
		return nil, ErrImage
	}
	src, err := folio.NewJPEG(b)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrImage, err)
	}
	m := &Image{name: fmt.Sprintf("I%d", len(d.images)), src: src}
	d.images = append(d.images, m)
	return m, nil
}
