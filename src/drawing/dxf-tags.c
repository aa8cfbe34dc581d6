/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-tags.c - pairs of code and value, of text and of bytes.
 *
 * Which kind a value has is one table of ranges of codes; the text form and the binary form are two
 * ways to fetch a code and a value of that kind. A value of text ends in a NUL that is written over
 * its line's end, so nothing is copied but the file once.
 *
 * Limits: what stands behind `0 EOF` is not looked at. A code with no value at the very end of a
 * file is not a pair: the file was cut there (`ended` stays %FALSE).
 */
#include "drawing/dxf-tags-private.h"
#include <math.h>
#include <string.h>

typedef enum { TEXT, REAL, INT16, INT32, INT64, FLAG, CHUNK } Kind;

/* Codes from the one before it, up to `last`. */
static const struct {
  int last;
  Kind kind;
} KINDS[] = {
    {9, TEXT},    {59, REAL},    {79, INT16},  {99, INT32},  {109, TEXT},   {149, REAL},
    {169, INT64}, {179, INT16},  {209, TEXT},  {239, REAL},  {269, TEXT},   {289, INT16},
    {299, FLAG},  {309, TEXT},   {319, CHUNK}, {369, TEXT},  {389, INT16},  {399, TEXT},
    {409, INT16}, {419, TEXT},   {429, INT32}, {439, TEXT},  {459, INT32},  {469, REAL},
    {1003, TEXT}, {1004, CHUNK}, {1009, TEXT}, {1059, REAL}, {1070, INT16}, {1071, INT32},
};

enum { LEAST_CODE = -5, MOST_CODE = 1071, FIRST_FOREIGN = 1000, EMBEDDED = 101 };
#define MOST_NUMBER 1e9

static Kind
kind_of(int code)
{
  for (gsize i = 0; i < G_N_ELEMENTS(KINDS); i++)
    if (code <= KINDS[i].last)
      return KINDS[i].kind;
  return TEXT;
}

/* ---- both forms ------------------------------------------------------------------------------ */

typedef struct {
  HfDxfTags *tags;
  char *at, *end;
  guint32 line; /* text: of what comes next */
  gboolean two; /* binary: codes of two bytes */
} Reading;

char *
hf_dxf_place(const HfDxfTags *tags, guint place)
{
  return tags->binary ? g_strdup_printf("%s, byte 0x%x", tags->name, place)
                      : g_strdup_printf("%s:%u", tags->name, place);
}

static gboolean
refuse(const HfDxfTags *tags, guint place, GError **error, const char *what)
{
  g_autofree char *where = hf_dxf_place(tags, place);
  hf_error_set(error, HF_ERROR_BAD_VALUE, where,
               "save it anew as DXF, the file may be cut short or mixed up", "%s", what);
  return FALSE;
}

static gboolean
take(Reading *reading, HfDxfTag tag, GError **error)
{
  HfDxfTags *tags = reading->tags;
  if (tags->tags->len >= HF_DXF_MOST_TAGS) {
    g_autofree char *where = hf_dxf_place(tags, tag.place);
    hf_error_set(error, HF_ERROR_TOO_BIG, where, "leave out what is not to be cut",
                 "a drawing of more than %d values", HF_DXF_MOST_TAGS);
    return FALSE;
  }
  g_array_append_val(tags->tags, tag);
  tags->ended =
      tag.code == 0 && tag.text != NULL && strcmp(g_strstrip((char *)tag.text), "EOF") == 0;
  return TRUE;
}

/* ---- text ------------------------------------------------------------------------------------ */

/* The next line, ended by a NUL; %NULL at the end. CR LF, LF and CR end lines. */
static char *
next_line(Reading *reading)
{
  if (reading->at >= reading->end)
    return NULL;
  char *line = reading->at, *p = line;
  while (p < reading->end && *p != '\n' && *p != '\r')
    p++;
  gboolean pair = p + 1 < reading->end && p[0] == '\r' && p[1] == '\n';
  reading->at = p + (pair ? 2 : 1);
  *p = '\0'; /* a byte too many is there at the end */
  reading->line++;
  return line;
}

static gboolean
is_code(const char *line, int *ret_code)
{
  char *stop;
  gint64 code = g_ascii_strtoll(line, &stop, 10);
  if (stop == line || g_strstrip(stop)[0] != '\0' || code < LEAST_CODE || code > MOST_CODE)
    return FALSE;
  *ret_code = (int)code;
  return TRUE;
}

/* A number as it stands in the file: digits, point, exponent. */
static double
number_of(const char *text)
{
  char *stop;
  double value = g_ascii_strtod(text, &stop);
  gboolean plain = strspn(text, " \t+-.0123456789eE") == strlen(text);
  return stop != text && plain && g_strstrip(stop)[0] == '\0' && isfinite(value) ? value : NAN;
}

static gboolean
is_text(Kind kind)
{
  return kind == TEXT || kind == CHUNK;
}

static gboolean
read_lines(Reading *reading, GError **error)
{
  char *line, *value = NULL;
  while (!reading->tags->ended && (line = next_line(reading)) != NULL) {
    HfDxfTag tag = {.place = reading->line, .number = NAN};
    if (!is_code(line, &tag.code)) {
      if (line + strspn(line, " \t\x1a") >= reading->end)
        break; /* only blanks are left */
      return refuse(reading->tags, tag.place, error, "a code should stand here, and none does");
    }
    if ((value = next_line(reading)) == NULL)
      break;
    if (is_text(kind_of(tag.code)))
      tag.text = value;
    else
      tag.number = number_of(value);
    if (!take(reading, tag, error))
      return FALSE;
  }
  return TRUE;
}

/* ---- binary ---------------------------------------------------------------------------------- */

static const char MARK[] =
    " Binary DXF\r\n\x1a"; /* its end; a name of seven letters is before it */
enum { MARK_AT = 7, MARK_BYTES = 22 };

static gboolean
is_binary(const char *bytes, gsize length)
{
  return length > MARK_BYTES && memcmp(bytes + MARK_AT, MARK, sizeof MARK) == 0;
}

static gboolean
take_bytes(Reading *reading, void *to, gsize n)
{
  if ((gsize)(reading->end - reading->at) < n)
    return FALSE;
  memcpy(to, reading->at, n);
  reading->at += n;
  return TRUE;
}

static gboolean
take_code(Reading *reading, int *ret_code)
{
  guint8 one;
  gint16 two;
  if (!reading->two) {
    if (!take_bytes(reading, &one, 1))
      return FALSE;
    *ret_code = one;
    if (one != 255)
      return TRUE; /* 255: a larger one follows */
  }
  if (!take_bytes(reading, &two, 2))
    return FALSE;
  *ret_code = GINT16_FROM_LE(two);
  return TRUE;
}

static gboolean
take_text(Reading *reading, HfDxfTag *tag)
{
  char *stop = memchr(reading->at, '\0', (gsize)(reading->end - reading->at));
  if (stop == NULL)
    return FALSE;
  tag->text = reading->at;
  reading->at = stop + 1;
  return TRUE;
}

static gboolean
take_number(Reading *reading, Kind kind, HfDxfTag *tag)
{
  static const gsize sizes[] = {[REAL] = 8, [INT16] = 2, [INT32] = 4, [INT64] = 8, [FLAG] = 1};
  guint8 raw[8] = {0};
  if (!take_bytes(reading, raw, sizes[kind]))
    return FALSE;
  guint64 bits = 0;
  for (gsize i = sizes[kind]; i > 0; i--)
    bits = bits << 8 | raw[i - 1];
  double real;
  memcpy(&real, &bits, sizeof real);
  switch (kind) {
  case REAL:
    tag->number = isfinite(real) ? real : NAN;
    break;
  case INT16:
    tag->number = (gint16)bits;
    break;
  case INT32:
    tag->number = (gint32)bits;
    break;
  default:
    tag->number = (double)(gint64)bits;
  }
  return TRUE;
}

static gboolean
take_value(Reading *reading, HfDxfTag *tag)
{
  Kind kind = kind_of(tag->code);
  if (kind == TEXT)
    return take_text(reading, tag);
  if (kind != CHUNK)
    return take_number(reading, kind, tag);
  guint8 n;
  tag->text = "";
  if (!take_bytes(reading, &n, 1) || (gsize)(reading->end - reading->at) < n)
    return FALSE;
  reading->at += n;
  return TRUE;
}

static gboolean
read_bytes(Reading *reading, GError **error)
{
  reading->at += MARK_BYTES;
  reading->two = reading->at + 1 < reading->end && reading->at[1] == '\0';
  while (!reading->tags->ended && reading->at < reading->end) {
    HfDxfTag tag = {.place = (guint32)(reading->at - reading->tags->bytes), .number = NAN};
    if (!take_code(reading, &tag.code))
      break;
    if (tag.code < LEAST_CODE || tag.code > MOST_CODE)
      return refuse(reading->tags, tag.place, error, "a code should stand here, and none does");
    if (!take_value(reading, &tag))
      break;
    if (!take(reading, tag, error))
      return FALSE;
  }
  return TRUE;
}

/* ---- the file -------------------------------------------------------------------------------- */

static gsize
byte_order_mark(const char *bytes, gsize length)
{
  return length >= 3 && memcmp(bytes, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
}

/* The first pair that is no comment begins a section. */
gboolean
hf_dxf_looks_like(const char *bytes, gsize length)
{
  enum { LOOKED_AT = 4096 };
  if (is_binary(bytes, length))
    return TRUE;
  gsize skip = byte_order_mark(bytes, length);
  g_autofree char *head = g_strndup(bytes + skip, MIN(length - skip, LOOKED_AT));
  Reading reading = {.at = head, .end = head + strlen(head)};
  char *line, *value = head;
  int code = 999;
  while (code == 999) {
    if ((line = next_line(&reading)) == NULL || !is_code(line, &code))
      return FALSE;
    if ((value = next_line(&reading)) == NULL)
      return FALSE;
  }
  const char *const begins[] = {"SECTION", "EOF", NULL};
  return code == 0 && g_strv_contains(begins, g_strstrip(value));
}

HfDxfTags *
hf_dxf_tags_read(const char *name, const char *bytes, gsize length, GError **error)
{
  if (length > HF_DXF_MOST_BYTES) {
    hf_error_set(error, HF_ERROR_TOO_BIG, name, "leave out what is not to be cut",
                 "a drawing of more than %u MB", HF_DXF_MOST_BYTES >> 20);
    return NULL;
  }
  g_autoptr(HfDxfTags) tags = g_new0(HfDxfTags, 1);
  tags->name = g_strdup(name);
  tags->tags = g_array_new(FALSE, FALSE, sizeof(HfDxfTag));
  tags->binary = is_binary(bytes, length);
  gsize skip = tags->binary ? 0 : byte_order_mark(bytes, length);
  tags->bytes = g_malloc(length + 1);
  memcpy(tags->bytes, bytes, length);
  tags->bytes[length] = '\0';
  Reading reading = {.tags = tags, .at = tags->bytes + skip, .end = tags->bytes + length};
  gboolean read = tags->binary ? read_bytes(&reading, error) : read_lines(&reading, error);
  return read ? g_steal_pointer(&tags) : NULL;
}

void
hf_dxf_tags_free(HfDxfTags *tags)
{
  if (tags == NULL)
    return;
  g_array_unref(tags->tags);
  g_free(tags->bytes);
  g_free(tags->name);
  g_free(tags);
}

/* ---- records --------------------------------------------------------------------------------- */

HfDxfRecord
hf_dxf_record_at(const HfDxfTags *tags, guint i)
{
  const HfDxfTag *tag = &g_array_index(tags->tags, HfDxfTag, i);
  guint n = 1, left = tags->tags->len - i;
  while (n < left && tag[n].code != 0)
    n++;
  return (HfDxfRecord){tag, n};
}

/* An object embedded in another has codes of its own: there the record ends for us. */
const HfDxfTag *
hf_dxf_find(HfDxfRecord record, int code)
{
  for (guint i = 0; i < record.n && record.tag[i].code != EMBEDDED; i++)
    if (record.tag[i].code == code)
      return &record.tag[i];
  return NULL;
}

double
hf_dxf_real(HfDxfRecord record, int code, double fallback)
{
  const HfDxfTag *tag = hf_dxf_find(record, code);
  return tag != NULL && !isnan(tag->number) ? tag->number : fallback;
}

int
hf_dxf_int(HfDxfRecord record, int code, int fallback)
{
  return (int)CLAMP(hf_dxf_real(record, code, fallback), G_MININT, G_MAXINT);
}

const char *
hf_dxf_text(HfDxfRecord record, int code, const char *fallback)
{
  const HfDxfTag *tag = hf_dxf_find(record, code);
  return tag != NULL && tag->text != NULL ? tag->text : fallback;
}

gboolean
hf_dxf_is(HfDxfRecord record, const char *type)
{
  return record.n > 0 && record.tag[0].code == 0 && strcmp(record.tag[0].text, type) == 0;
}

gboolean
hf_dxf_is_sound(const HfDxfTags *tags, HfDxfRecord record, GError **error)
{
  for (guint i = 0; i < record.n && record.tag[i].code != EMBEDDED; i++) {
    const HfDxfTag *tag = &record.tag[i];
    if (tag->text != NULL || tag->code >= FIRST_FOREIGN)
      continue;
    guint place = tag->place + (tags->binary ? 0 : 1); /* of its value */
    if (isnan(tag->number))
      return refuse(tags, place, error, "a number should stand here, and none does");
    if (kind_of(tag->code) == REAL && fabs(tag->number) > MOST_NUMBER)
      return refuse(tags, place, error, "a number beyond 1000000000");
  }
  return TRUE;
}
