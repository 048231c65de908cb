package tagged

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"fmt"
	"math"
)

// xmp is the metadata of the file: Dublin Core, PDF/A-2a, PDF/UA-1 with the extension
// schema that PDF/A asks for where it uses a schema it does not know (ISO 19005-2, 6.6.2.3).
func (i Info) xmp() []byte {
	e := func(s string) string {
		var b bytes.Buffer
		_ = xml.EscapeText(&b, []byte(Clean(s))) // a buffer takes everything
		return b.String()
	}
	at := i.At.UTC().Format("2006-01-02T15:04:05+00:00")
	return fmt.Appendf(nil, `<?xpacket begin="%s" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
<dc:format>application/pdf</dc:format>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">%s</rdf:li></rdf:Alt></dc:title>
<dc:creator><rdf:Seq><rdf:li>%s</rdf:li></rdf:Seq></dc:creator>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">%s</rdf:li></rdf:Alt></dc:description>
<dc:language><rdf:Bag><rdf:li>%s</rdf:li></rdf:Bag></dc:language>
<xmp:CreatorTool>%s</xmp:CreatorTool><xmp:CreateDate>%s</xmp:CreateDate><xmp:ModifyDate>%s</xmp:ModifyDate>
<pdf:Producer>%s</pdf:Producer>
<pdfaid:part>2</pdfaid:part><pdfaid:conformance>A</pdfaid:conformance>
<pdfuaid:part>1</pdfuaid:part>
</rdf:Description>
<rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/" xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA Universal Accessibility Schema</pdfaSchema:schema><pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI><pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource"><pdfaProperty:name>part</pdfaProperty:name><pdfaProperty:valueType>Integer</pdfaProperty:valueType><pdfaProperty:category>internal</pdfaProperty:category><pdfaProperty:description>Indicates, which part of ISO 14289 standard is followed</pdfaProperty:description></rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas>
</rdf:Description>
</rdf:RDF></x:xmpmeta>
<?xpacket end="w"?>`, "\ufeff", e(i.Title), e(i.Author), e(i.Subject), e(i.Lang), e(i.Creator), at, at, e(i.Producer))
}

// srgb makes an ICC profile (version 2.1, matrix and curve) of the sRGB space: primaries
// adapted to D50 and the transfer curve of IEC 61966-2-1, both from memory and equal to
// those of common sRGB profiles to four decimals.
func srgb() []byte {
	fixed := func(x float64) []byte { return binary.BigEndian.AppendUint32(nil, uint32(int32(math.Round(x*65536)))) }
	xyz := func(x, y, z float64) []byte {
		return bytes.Join([][]byte{[]byte("XYZ \x00\x00\x00\x00"), fixed(x), fixed(y), fixed(z)}, nil)
	}
	const words = "sRGB"
	desc := append([]byte("desc\x00\x00\x00\x00\x00\x00\x00\x05"+words+"\x00"), make([]byte, 78)...)
	curve := binary.BigEndian.AppendUint32([]byte("curv\x00\x00\x00\x00"), 1024)
	for i := range 1024 {
		v := float64(i) / 1023
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		curve = binary.BigEndian.AppendUint16(curve, uint16(math.Round(v*65535)))
	}
	tags := []struct {
		name string
		data []byte
	}{
		{"desc", desc},
		{"cprt", []byte("text\x00\x00\x00\x00No copyright\x00")},
		{"wtpt", xyz(0.9642, 1, 0.8249)},
		{"rXYZ", xyz(0.4360, 0.2225, 0.0139)},
		{"gXYZ", xyz(0.3851, 0.7169, 0.0971)},
		{"bXYZ", xyz(0.1431, 0.0606, 0.7141)},
		{"rTRC", curve},
		{"gTRC", nil},
		{"bTRC", nil},
	}
	head := make([]byte, 128)
	copy(head[8:], "\x02\x10\x00\x00mntrRGB XYZ ")
	copy(head[24:], "\x07\xea\x00\x0a\x00\x14\x00\x00\x00\x00\x00\x00acsp")
	copy(head[68:], bytes.Join([][]byte{fixed(0.9642), fixed(1), fixed(0.8249)}, nil))
	table := binary.BigEndian.AppendUint32(nil, uint32(len(tags)))
	var data []byte
	at, size := 0, 0
	for _, t := range tags {
		if t.data != nil {
			for len(data)%4 != 0 {
				data = append(data, 0)
			}
			at, size = 128+4+12*len(tags)+len(data), len(t.data)
			data = append(data, t.data...)
		}
		table = append(table, t.name...)
		table = binary.BigEndian.AppendUint32(table, uint32(at))
		table = binary.BigEndian.AppendUint32(table, uint32(size))
	}
	for len(data)%4 != 0 {
		data = append(data, 0)
	}
	profile := bytes.Join([][]byte{head, table, data}, nil)
	binary.BigEndian.PutUint32(profile, uint32(len(profile)))
	return profile
}
