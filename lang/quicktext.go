package lang

import (
	"bytes"
	"unicode/utf8"

	"tapline/lang/diag"
	"tapline/lang/guard"
)

// Strings of a file in the usual spelling; see quick.go.

// quoted takes a quoted string.
func (q *quickReader) quoted() (text string, lit literal, at diag.Range, ok bool) {
	start := q.here()
	plain, marks := true, 0
	q.at++
	for {
		if q.at == len(q.text) {
			return "", lit, at, false
		}
		c := q.text[q.at]
		q.at++
		switch {
		case c == '"':
			at = q.from(start)
			if plain {
				text = q.text[start.Byte+1 : q.at-1]
				lit = literal{src: q.src, segs: q.segs.one(), end: len(text)}
				lit.segs[0] = segment{file: int32(start.Byte + 1), width: int32(len(text))}
				return text, lit, at, true
			}
			text, lit, errs := decodeString(q.src, start.Byte, q.at)
			return text, lit, at, len(errs) == 0
		case c == '\n' || c == '\r':
			return "", lit, at, false
		case c == '\\':
			plain = false
			if q.at == len(q.text) || q.text[q.at] == '\n' || q.text[q.at] >= utf8.RuneSelf {
				return "", lit, at, false
			}
			q.at++
		case c == '$' || c == '%':
			// The guard bounds the pieces these cut a text into.
			if marks++; marks > guard.MaxParts/4 || q.at == len(q.text) {
				return "", lit, at, false
			}
			switch n := q.text[q.at]; {
			case n == '{', n == '$', n == '%', n == '\\', n >= utf8.RuneSelf:
				return "", lit, at, false
			}
		case c >= utf8.RuneSelf:
			plain = false
			if !startsRune(c) {
				q.inner++
			}
		}
	}
}

// heredoc takes a heredoc up to the end of its marker's line.
func (q *quickReader) heredoc() (text string, lit literal, ok bool) {
	start := q.at
	if q.at+2 >= len(q.text) || q.text[q.at+1] != '<' {
		return "", lit, false
	}
	if q.at += 2; q.text[q.at] == '-' {
		q.at++
	}
	from := q.at
	for q.at < len(q.text) && (letter(q.text[q.at]) || q.at > from && digit(q.text[q.at])) {
		q.at++
	}
	marker := []byte(q.text[from:q.at])
	if len(marker) == 0 {
		return "", lit, false
	}
	if q.at < len(q.text) && q.text[q.at] == '\r' {
		q.at++
	}
	for lines := 0; q.at < len(q.text) && q.text[q.at] == '\n' && lines < guard.MaxParts; lines++ {
		q.at++
		q.line, q.start, q.inner = q.line+1, q.at, 0
		for q.at < len(q.text) && q.text[q.at] != '\n' {
			if c := q.text[q.at]; c == '$' || c == '%' {
				return "", lit, false
			} else if !startsRune(c) {
				q.inner++
			}
			q.at++
		}
		if q.at == len(q.text) {
			return "", lit, false
		}
		if bytes.Equal(bytes.TrimSpace(q.src.bytes[q.start:q.at]), marker) {
			if q.text[q.at-1] == '\r' {
				q.at--
			}
			text, lit, errs := decodeString(q.src, start, q.at)
			return text, lit, len(errs) == 0
		}
	}
	return "", lit, false
}
