/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-letters.c - words of a DXF file in a face of the user's choice: what each letter goes round,
 * as closed runs among those that were drawn.
 *
 *     height 1  _H_______g__   capitals are as high as the file says its text is; lines are parted
 *                       by their own breaks, and where they are wider than the text may be
 */
#include "base/text.h"
#include "drawing/dxf-private.h"
#include "drawing/nest-private.h"
#include "drawing/settle-private.h"
#include "drawing/text-faces-private.h"
#include <string.h>

#define MOST_LETTERS 20000 /* of a file */
#define SETTLED_AT   100.0 /* an em is so many mm where its contours are put in order */

enum { LEFT, CENTRE, RIGHT, ALIGNED, MIDDLE, FITTED };
enum { BASELINE, BOTTOM, HALF, TOP };

typedef struct {
  HfDxfReader *reader;
  HfDrawing *drawing;
  HfFonts *fonts;
  HfTextFaces *faces;
  guint letters;
} Setting;

/* One text while it is set. All lengths in its heights, y up, its anchor the origin. */
typedef struct {
  const HfDxfPiece *piece;
  const HfDxfWords *words;
  const HfFace *face;
  GPtrArray *lines; /* HfLine * */
  double em;        /* heights of an em */
  char *where, *content;
} Text;

/* ---- lines ----------------------------------------------------------------------------------- */

static HfLine *
line_of(Setting *own, const Text *text, const char *line, GError **error)
{
  g_autofree char *plain = g_strdup(line);
  for (char *p = plain; *p != '\0'; p++)
    if (g_ascii_iscntrl(*p))
      *p = ' ';
  return hf_type_line(own->fonts, text->face, plain, NULL, text->where, error);
}

/* As many words as fit, at least one; @ret_used: bytes of them and of the blank behind them. */
static HfLine *
wrapped(Setting *own, const Text *text, const char *from, gsize *ret_used, GError **error)
{
  HfLine *best = NULL;
  for (const char *end = from; *end != '\0';) {
    end += strspn(end, " ");
    end += strcspn(end, " ");
    g_autofree char *part = g_strndup(from, (gsize)(end - from));
    HfLine *line = line_of(own, text, part, error);
    if (line == NULL || (best != NULL && line->advance * text->em > text->words->wrap)) {
      hf_line_free(line);
      if (line == NULL)
        g_clear_pointer(&best, hf_line_free);
      return best;
    }
    hf_line_free(best);
    best = line;
    *ret_used = (gsize)(end - from) + strspn(end, " ");
  }
  return best;
}

static gboolean
add_line(Setting *own, Text *text, const char *line, GError **error)
{
  do {
    gsize used = strlen(line);
    HfLine *set = text->words->wrap > 0 && used > 0 ? wrapped(own, text, line, &used, error)
                                                    : line_of(own, text, line, error);
    if (set == NULL)
      return FALSE;
    g_ptr_array_add(text->lines, set);
    line += used;
  } while (*line != '\0');
  return TRUE;
}

static gboolean
add_lines(Setting *own, Text *text, GError **error)
{
  g_auto(GStrv) lines = g_strsplit(text->words->text, "\n", 1000);
  for (guint i = 0; lines[i] != NULL; i++)
    if (!add_line(own, text, lines[i], error))
      return FALSE;
  return TRUE;
}

/* ---- places ---------------------------------------------------------------------------------- */

/* The baseline of the first line above the anchor. */
static double
first_baseline(const Text *text)
{
  double below = (text->lines->len - 1) * text->words->leading;
  double tail = hf_face_metrics(text->face).descent * text->em;
  switch (text->words->up) {
  case TOP:
    return -1;
  case HALF:
    return (below - 1) / 2;
  case BOTTOM:
    return below + tail;
  default:
    return below;
  }
}

static double
start_of(const Text *text, double advance)
{
  int across = text->words->across;
  return across == CENTRE || across == MIDDLE ? -advance / 2 : across == RIGHT ? -advance : 0;
}

/* Ems of line @i to the drawing. */
static HfMatrix
matrix_of(const Text *text, guint i)
{
  const HfLine *line = (const HfLine *)text->lines->pdata[i];
  double wide = text->em, high = text->em, advance = line->advance * text->em;
  if (text->words->span > 0 && advance > 0) { /* aligned: in its shape; fitted: only as wide */
    wide *= text->words->span / advance;
    high = text->words->across == ALIGNED ? wide : high;
    advance = text->words->span;
  }
  HfMatrix m = hf_matrix_scale(wide, high);
  double y = first_baseline(text) - i * text->words->leading;
  m = hf_matrix_then(m, hf_matrix_move(start_of(text, advance), y));
  return hf_matrix_then(m, text->words->matrix);
}

/* ---- letters --------------------------------------------------------------------------------- */

static HfOutline *
sized(const HfOutline *outline, double by)
{
  HfOutline *to = hf_outline_new();
  hf_outline_append(to, outline, hf_matrix_scale(by, by));
  return to;
}

static gboolean
crosses(const HfOutline *outline)
{
  g_autoptr(HfOutline) large = sized(outline, SETTLED_AT);
  g_autoptr(GArray) crossings = hf_nest_crossings(large, 1);
  return crossings->len > 0;
}

/* (transfer full) none crossing: contours of a face may lie over each other, and letters that
 * touch.
 */
static HfOutline *
settled(const HfOutline *outline)
{
  if (!crosses(outline))
    return hf_outline_copy(outline);
  g_autoptr(HfOutline) large = sized(outline, SETTLED_AT);
  g_autoptr(HfRegion) region = hf_settle_region(large, FALSE);
  if (region == NULL)
    return hf_outline_new();
  g_autoptr(HfOutline) clean = hf_settle_curves(region, (const HfOutline *[]){large}, 1);
  return sized(clean, 1 / SETTLED_AT);
}

static void
run_free(gpointer data)
{
  g_array_unref((GArray *)data);
}

/* Takes @name. */
static void
add_letter(Setting *own, const Text *text, const HfOutline *outline, HfMatrix matrix, char *name)
{
  HfDxfPiece *piece = g_new0(HfDxfPiece, 1);
  *piece = (HfDxfPiece){.how = HF_DXF_RUN,
                        .type = g_strdup(text->piece->type),
                        .layer = g_strdup(text->piece->layer),
                        .block = g_strdup(text->piece->block),
                        .name = name,
                        .said = g_strdup(text->content),
                        .place = text->piece->place,
                        .closed = TRUE,
                        .runs = g_ptr_array_new_with_free_func(run_free)};
  g_ptr_array_add(own->reader->pieces, piece);
  for (guint i = 0; i < hf_outline_n_contours(outline); i++) {
    guint n;
    const HfCurve *curves = hf_outline_contour(outline, i, &n);
    GArray *run = g_array_new(FALSE, FALSE, sizeof(HfCurve));
    g_array_append_vals(run, curves, n);
    hf_dxf_add_run(own->reader, piece, run, matrix);
  }
}

/* `the 2nd "R" in text "HARBOUR"` */
static char *
name_of(const Text *text, const char *letter, GHashTable *counts, GHashTable *seen)
{
  guint nth = 1 + GPOINTER_TO_UINT(g_hash_table_lookup(seen, letter));
  g_hash_table_insert(seen, (gpointer)letter, GUINT_TO_POINTER(nth));
  gboolean more = GPOINTER_TO_UINT(g_hash_table_lookup(counts, letter)) > 1;
  return hf_drawing_letter_name(letter, more ? nth : 0, text->content);
}

static GHashTable *
count_letters(const Text *text)
{
  GHashTable *counts = g_hash_table_new(g_str_hash, g_str_equal);
  for (guint i = 0; i < text->lines->len; i++) {
    const GPtrArray *letters = ((const HfLine *)text->lines->pdata[i])->letters;
    for (guint k = 0; k < letters->len; k++) {
      guint n = GPOINTER_TO_UINT(g_hash_table_lookup(counts, letters->pdata[k]));
      g_hash_table_insert(counts, letters->pdata[k], GUINT_TO_POINTER(n + 1));
    }
  }
  return counts;
}

/* Letters that run into each other are one thing: by even-odd what lies in both would be none. */
typedef struct {
  HfOutline *outline;
  GString *letters;
  char *name;
} Together;

static void
flush(Setting *own, const Text *text, HfMatrix matrix, Together *group)
{
  g_autoptr(HfOutline) clean = settled(group->outline);
  if (hf_outline_n_contours(clean) > 0)
    add_letter(own, text, clean, matrix, g_steal_pointer(&group->name));
  g_clear_pointer(&group->name, g_free);
  hf_outline_free(group->outline);
  group->outline = hf_outline_new();
  g_string_truncate(group->letters, 0);
}

/* Takes @name. */
static void
join_letter(Setting *own, const Text *text, HfMatrix matrix, Together *group,
            const HfOutline *outline, const char *letter, char *name)
{
  g_autoptr(HfOutline) both = hf_outline_copy(group->outline);
  hf_outline_append(both, outline, HF_MATRIX_IDENTITY);
  gboolean meets = hf_box_overlaps(hf_outline_box(group->outline), hf_outline_box(outline)) &&
                   crosses(both); /* each alone does not */
  if (!meets && group->letters->len > 0)
    flush(own, text, matrix, group);
  hf_outline_append(group->outline, outline, HF_MATRIX_IDENTITY);
  g_string_append(group->letters, letter);
  if (meets) {
    HfOutline *clean = settled(group->outline);
    hf_outline_free(group->outline);
    group->outline = clean;
    g_free(name);
    g_free(group->name);
    name = hf_drawing_letter_name(group->letters->str, 0, text->content);
  }
  group->name = name;
}

static void
add_line_letters(Setting *own, const Text *text, guint i, GHashTable *counts, GHashTable *seen)
{
  const HfLine *line = (const HfLine *)text->lines->pdata[i];
  HfMatrix matrix = matrix_of(text, i);
  Together group = {hf_outline_new(), g_string_new(NULL), NULL};
  for (guint g = 0; g < line->glyphs->len;) {
    guint letter = g_array_index(line->glyphs, HfGlyph, g).letter;
    g_autoptr(HfOutline) all = hf_outline_new();
    for (; g < line->glyphs->len && g_array_index(line->glyphs, HfGlyph, g).letter == letter; g++) {
      const HfGlyph *glyph = &g_array_index(line->glyphs, HfGlyph, g);
      hf_outline_append(all, glyph->outline, hf_matrix_move(glyph->at.x, glyph->at.y));
    }
    const char *says = (const char *)line->letters->pdata[letter];
    g_autoptr(HfOutline) clean = settled(all);
    join_letter(own, text, matrix, &group, clean, says, name_of(text, says, counts, seen));
  }
  flush(own, text, matrix, &group);
  hf_outline_free(group.outline);
  g_string_free(group.letters, TRUE);
  own->letters += line->letters->len;
}

static void
add_letters(Setting *own, const Text *text)
{
  g_autoptr(GHashTable) counts = count_letters(text);
  g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
  for (guint i = 0; i < text->lines->len; i++)
    add_line_letters(own, text, i, counts, seen);
}

/* ---- all ------------------------------------------------------------------------------------- */

static gboolean
set_text(Setting *own, Text *text, GError **error)
{
  text->face = hf_text_faces_said(own->faces, text->words->style, text->where, error);
  if (text->face == NULL)
    return FALSE;
  double capital = hf_face_cap_height(text->face);
  text->em = 1 / (capital > 0 ? capital : 0.7);
  if (own->letters > MOST_LETTERS || strlen(text->words->text) > MOST_LETTERS) {
    hf_error_set(error, HF_ERROR_TOO_BIG, text->where, "take a part of the drawing",
                 "it has words of more than %d letters", MOST_LETTERS);
    return FALSE;
  }
  if (!add_lines(own, text, error))
    return FALSE;
  add_letters(own, text);
  return TRUE;
}

static void
set_piece(Setting *own, const HfDxfPiece *piece)
{
  const HfDxfTags *tags = own->reader->document->tags;
  g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func((GDestroyNotify)hf_line_free);
  g_autofree char *content = hf_drawing_tidy(piece->words->text);
  guint line = tags->binary ? 0 : piece->place;
  g_autofree char *at =
      line > 0 ? g_strdup_printf("%s:%u", tags->name, line) : g_strdup(tags->name);
  g_autofree char *where = g_strdup_printf("%s: text \"%s\"", at, content);
  Text text = {
      .piece = piece, .words = piece->words, .lines = lines, .where = where, .content = content};
  if (*content == '\0')
    return;
  GError *why = NULL;
  gboolean set = set_text(own, &text, &why);
  HfDrawingText *told = hf_drawing_text(own->drawing, content, piece->words->style, line);
  if (set)
    told->face = g_strdup_printf("%s %s", hf_face_family(text.face), hf_face_style(text.face));
  told->why = why;
  if (piece->words->mixed)
    hf_drawing_note(own->drawing, line,
                    "how parts of a text look in the file was left out: it is "
                    "set in one");
}

void
hf_dxf_set_words(HfDxfReader *reader, HfDrawing *drawing, const HfDrawingWish *wish)
{
  g_autoptr(HfTextFaces) faces = hf_text_faces_new(wish);
  Setting own = {reader, drawing, wish->fonts, faces, 0};
  guint n = reader->pieces->len;
  for (guint i = 0; i < n && reader->error == NULL; i++) {
    const HfDxfPiece *piece = (const HfDxfPiece *)reader->pieces->pdata[i];
    gboolean left_out = hf_drawing_names(wish->left_out, piece->layer) ||
                        (piece->block != NULL && hf_drawing_names(wish->left_out, piece->block));
    if (piece->how == HF_DXF_WORDS && !left_out)
      set_piece(&own, piece);
  }
}
