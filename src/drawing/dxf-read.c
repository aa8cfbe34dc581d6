/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf-read.c - a DXF file as a drawing.
 *
 *   lines ─> joined ─┐
 *   paint ─> its edge┴─> closed outlines, none twice ─> what lies in what ─> pieces
 *
 * A DXF file has no inside and outside: closed outlines do, by how many others lie round them. Each
 * that lies in none, in two, in four ... is a piece, with those that lie right inside as its
 * openings. All is worked out in the frame of drawing.h; places are told in the file's own unit.
 */
#include "base/text.h"
#include "drawing/drawing-private.h"
#include "drawing/dxf-private.h"
#include "drawing/join-private.h"
#include "drawing/nest-private.h"
#include <string.h>

typedef struct {
  HfDxfReader *reader;
  HfDrawing *drawing;
  HfMatrix frame; /* from the file's unit */
  double unit_mm; /* of one unit of the file; where nobody says: 1 */
  const HfDrawingWish *wish;
  GHashTable *counts;
  GError *error;
} Reading;

static const HfDxfPiece *
piece_of(const Reading *reading, guint source)
{
  return (const HfDxfPiece *)reading->reader->pieces->pdata[source];
}

static guint
line_of(const Reading *reading, guint place)
{
  return reading->reader->document->tags->binary ? 0 : place;
}

/* ---- size ------------------------------------------------------------------------------------ */

static HfBox
box_of_all(const HfDxfReader *reader)
{
  HfBox box = HF_BOX_EMPTY;
  for (guint i = 0; i < reader->pieces->len; i++) {
    const HfDxfPiece *piece = (const HfDxfPiece *)reader->pieces->pdata[i];
    for (guint j = 0; j < piece->runs->len; j++) {
      const GArray *run = (const GArray *)piece->runs->pdata[j];
      for (guint k = 0; k < run->len; k++)
        box = hf_box_union(box, hf_curve_box(&g_array_index(run, HfCurve, k)));
    }
  }
  return box;
}

static void
say_size(Reading *reading, HfBox box)
{
  int unit = reading->reader->document->unit;
  double width = hf_box_width(box), height = hf_box_height(box), mm = reading->unit_mm;
  g_autofree char *as_mm = hf_text_size(width * mm, height * mm);
  g_autofree char *as_inches = hf_text_size(width * 25.4, height * 25.4);
  if (reading->wish->unit_mm > 0) {
    reading->drawing->size_rule = g_strdup_printf("by the unit that was said: %s", as_mm);
    if (hf_dxf_unit_mm(unit) > 0 && hf_dxf_unit_mm(unit) != reading->wish->unit_mm)
      hf_drawing_note(reading->drawing, 0, "the file says %s, and was read by another unit",
                      hf_dxf_unit_word(unit))
          ->slight = TRUE;
    return;
  }
  if (hf_dxf_unit_mm(unit) > 0) {
    reading->drawing->size_rule =
        g_strdup_printf("its file says %s: %s", hf_dxf_unit_word(unit), as_mm);
    return;
  }
  reading->drawing->guessed = TRUE;
  reading->drawing->size_rule = g_strdup_printf(
      "its file does not say its unit: %s if millimetres, %s if inches", as_mm, as_inches);
}

static gboolean
refuse(Reading *reading, const char *fix, const char *what)
{
  const GError *unset = hf_drawing_unset(reading->drawing);
  if (unset != NULL) { /* perhaps that is all that is missing */
    reading->error = g_error_copy(unset);
    return FALSE;
  }
  hf_error_set(&reading->error, HF_ERROR_BAD_VALUE, reading->reader->document->tags->name, fix,
               "%s", what);
  return FALSE;
}

/* Every run into the frame, the file's lower left corner to its origin. */
static gboolean
bring_to_frame(Reading *reading)
{
  HfBox box = box_of_all(reading->reader);
  double longer = MAX(hf_box_width(box), hf_box_height(box));
  if (!(longer > 0))
    return refuse(reading, "draw an outline, or set the words in a recipe",
                  "nothing is drawn in it that can be cut");
  double k = HF_DRAWING_LONG / longer, mm = hf_dxf_unit_mm(reading->reader->document->unit);
  if (reading->wish->unit_mm > 0)
    mm = reading->wish->unit_mm;
  reading->unit_mm = mm > 0 ? mm : 1;
  reading->frame = (HfMatrix){k, 0, 0, k, -k * box.min.x, -k * box.min.y};
  reading->drawing->mm = reading->unit_mm / k;
  for (guint i = 0; i < reading->reader->pieces->len; i++) {
    const HfDxfPiece *piece = piece_of(reading, i);
    for (guint j = 0; j < piece->runs->len; j++)
      hf_dxf_matrix_run((GArray *)piece->runs->pdata[j], reading->frame);
  }
  say_size(reading, box);
  return TRUE;
}

/* ---- what is told ---------------------------------------------------------------------------- */

/* `12.5, 30`: in the file's own unit. */
static char *
place_of(const Reading *reading, HfPoint at)
{
  HfPoint p = hf_matrix_undo(reading->frame, at);
  g_autofree char *x = hf_text_number(p.x, 3), *y = hf_text_number(p.y, 3);
  return g_strdup_printf("%s, %s", x, y);
}

static void
tell_remark(Reading *reading, const HfJoinRemark *remark)
{
  HfDrawing *drawing = reading->drawing;
  guint line = line_of(reading, piece_of(reading, remark->source)->place);
  g_autofree char *at = place_of(reading, remark->at);
  g_autofree char *size = hf_text_length(remark->size * drawing->mm, 3);
  HfDrawingNote *told = NULL;
  switch (remark->kind) {
  case HF_JOIN_GAP:
    told = hf_drawing_note(drawing, line, "a gap of %s at %s was closed", size, at);
    break;
  case HF_JOIN_OPEN:
    told = hf_drawing_note(drawing, line, "a line ends at %s and meets nothing: it stays open", at);
    break;
  case HF_JOIN_BRANCH:
    told = hf_drawing_note(drawing, line, "lines fork at %s: one of them stays open", at);
    break;
  case HF_JOIN_CROSSING:
    told =
        hf_drawing_note(drawing, line, "outlines cross at %s: what lies in both is not metal", at);
    break;
  default:
    told = hf_drawing_note(drawing, line, "what is drawn again in the same place counts once");
  }
  told->slight = remark->kind == HF_JOIN_GAP || remark->kind == HF_JOIN_DOUBLE;
  if (isnan(told->at.x))
    told->at = remark->at;
}

static void
tell_joined(Reading *reading, const HfJoined *joined)
{
  for (guint i = 0; i < joined->remarks->len; i++)
    tell_remark(reading, &g_array_index(joined->remarks, HfJoinRemark, i));
  for (guint i = 0; i < joined->open->len; i++) {
    const HfChain *chain = (const HfChain *)joined->open->pdata[i];
    const HfDxfPiece *piece = piece_of(reading, chain->source);
    hf_drawing_note(reading->drawing, line_of(reading, piece->place),
                    "a line on layer \"%s\" is not closed: it goes round nothing and was left out",
                    piece->layer);
  }
}

static void
note_times(HfDrawing *drawing, guint line, const HfDxfNote *own)
{
  HfDrawingNote *note = hf_drawing_note(drawing, line, "%s", own->text);
  note->times += own->times - 1;
  note->slight = own->slight;
}

static gboolean
is_on(const HfDxfPiece *piece, const GPtrArray *names)
{
  return hf_drawing_names(names, piece->layer) ||
         (piece->block != NULL && hf_drawing_names(names, piece->block));
}

static void
tell_reader(Reading *reading)
{
  const HfDxfReader *reader = reading->reader;
  for (guint i = 0; i < reader->notes->len; i++) {
    const HfDxfNote *note = (const HfDxfNote *)reader->notes->pdata[i];
    note_times(reading->drawing, line_of(reading, note->place), note);
  }
  for (guint i = 0; i < reader->pieces->len; i++)
    if (piece_of(reading, i)->how == HF_DXF_WORDS && reading->drawing->texts->len == 0 &&
        !is_on(piece_of(reading, i), reading->wish->left_out))
      hf_drawing_note(reading->drawing, line_of(reading, piece_of(reading, i)->place),
                      "words were left out: the file names a face, it holds no letters; set them "
                      "in a recipe");
}

/* In the frame. However small the drawing: far less than its size. */
static double
tolerance_of(const Reading *reading)
{
  return MIN(HF_JOIN_MM / reading->drawing->mm, HF_DRAWING_LONG / 100);
}

/* ---- closed outlines ------------------------------------------------------------------------- */

static HfJoined *
join_lines(const Reading *reading)
{
  g_autoptr(GArray) strands = g_array_new(FALSE, FALSE, sizeof(HfStrand));
  for (guint i = 0; i < reading->reader->pieces->len; i++) {
    const HfDxfPiece *piece = piece_of(reading, i);
    for (guint j = 0; piece->how == HF_DXF_RUN && j < piece->runs->len; j++) {
      HfStrand strand = {(const GArray *)piece->runs->pdata[j], piece->closed, i};
      g_array_append_val(strands, strand);
    }
  }
  return hf_join((const HfStrand *)(gpointer)strands->data, strands->len, tolerance_of(reading));
}

/* Painted edges beside the lines: often the same once more. */
static void
add_fills(const Reading *reading, HfJoined *joined, const HfDxfLoops *fills)
{
  for (guint i = 0; i < hf_outline_n_contours(fills->outline); i++) {
    guint n;
    const HfCurve *curves = hf_outline_contour(fills->outline, i, &n);
    HfChain *chain = g_new0(HfChain, 1);
    *chain = (HfChain){g_array_new(FALSE, FALSE, sizeof(HfCurve)),
                       g_array_index(fills->sources, guint, i), 1};
    g_array_append_vals(chain->curves, curves, n);
    g_ptr_array_add(joined->loops, chain);
  }
  if (hf_outline_n_contours(fills->outline) > 0)
    hf_join_drop_doubles(joined, tolerance_of(reading));
}

static HfDxfLoops *
all_loops(const HfJoined *joined)
{
  HfDxfLoops *loops = hf_dxf_loops_new();
  for (guint i = 0; i < joined->loops->len; i++) {
    const HfChain *chain = (const HfChain *)joined->loops->pdata[i];
    hf_dxf_loops_add(loops, (const HfCurve *)(gpointer)chain->curves->data, chain->curves->len,
                     FALSE, chain->source);
  }
  return loops;
}

/* Loops that do not cross, each told where they did. */
static HfDxfLoops *
find_loops(Reading *reading)
{
  g_autoptr(HfDxfLoops) fills = hf_dxf_fills(reading->reader, &reading->error);
  if (fills == NULL)
    return NULL;
  g_autoptr(HfJoined) joined = join_lines(reading);
  add_fills(reading, joined, fills);
  g_autoptr(HfDxfLoops) loops = all_loops(joined);
  g_autoptr(GArray) crossings = hf_nest_crossings(loops->outline, HF_JOIN_MOST_REMARKS);
  for (guint i = 0; i < crossings->len; i++)
    hf_join_remark(joined, HF_JOIN_CROSSING, g_array_index(crossings, HfPoint, i), 0,
                   g_array_index(loops->sources, guint, 0));
  tell_joined(reading, joined);
  if (crossings->len == 0)
    return g_steal_pointer(&loops);
  return hf_dxf_even_odd(reading->reader, loops, &reading->error);
}

/* ---- pieces ---------------------------------------------------------------------------------- */

/* `outline on layer "rim"`, `2nd outline of block "leaf"`. */
static char *
name_of(Reading *reading, const HfDxfPiece *piece)
{
  if (piece->name != NULL)
    return g_strdup(piece->name);
  g_autofree char *base = piece->block != NULL
                              ? g_strdup_printf("outline of block \"%s\"", piece->block)
                              : g_strdup_printf("outline on layer \"%s\"", piece->layer);
  guint n = 1 + GPOINTER_TO_UINT(g_hash_table_lookup(reading->counts, base));
  g_hash_table_insert(reading->counts, g_strdup(base), GUINT_TO_POINTER(n));
  g_autofree char *ordinal = hf_text_ordinal(n);
  return n == 1 ? g_steal_pointer(&base) : g_strdup_printf("%s %s", ordinal, base);
}

static GPtrArray *
called_of(const HfDxfPiece *piece)
{
  GPtrArray *called = g_ptr_array_new_with_free_func(g_free);
  if (piece->said != NULL)
    g_ptr_array_add(called, g_strdup(piece->said));
  if (piece->block != NULL)
    g_ptr_array_add(called, g_strdup(piece->block));
  g_ptr_array_add(called, g_strdup(piece->layer));
  return called;
}

static double
area_of(const HfCurve *curves, guint n)
{
  guint start = 0;
  g_autoptr(GArray) copy = g_array_new(FALSE, FALSE, sizeof(HfCurve)),
                    starts = g_array_new(FALSE, FALSE, sizeof(guint));
  g_array_append_vals(copy, curves, n);
  g_array_append_val(starts, start);
  HfOutline outline = {copy, starts};
  return hf_outline_area(&outline);
}

/* Contour @i of @loops into the piece, metal on its left. */
static void
add_contour(HfDxfLoops *piece, const HfDxfLoops *loops, guint i, gboolean opening)
{
  guint n;
  const HfCurve *curves = hf_outline_contour(loops->outline, i, &n);
  gboolean clockwise = area_of(curves, n) < 0;
  hf_dxf_loops_add(piece, curves, n, clockwise != opening, 0);
}

static void
add_piece(Reading *reading, const HfDxfLoops *loops, guint outer, const guint *first,
          const guint *next)
{
  const HfDxfPiece *from = piece_of(reading, g_array_index(loops->sources, guint, outer));
  g_autoptr(HfDxfLoops) piece = hf_dxf_loops_new();
  add_contour(piece, loops, outer, FALSE);
  for (guint i = first[outer]; i != G_MAXUINT; i = next[i])
    add_contour(piece, loops, i, TRUE);
  hf_drawing_add(reading->drawing, name_of(reading, from), called_of(from),
                 g_steal_pointer(&piece->outline), 0, line_of(reading, from->place));
}

static void
add_pieces(Reading *reading, const HfDxfLoops *loops)
{
  guint n = hf_outline_n_contours(loops->outline);
  g_autoptr(GArray) nests = hf_nest(loops->outline);
  g_autofree guint *first = g_new(guint, n + 1), *next = g_new(guint, n + 1);
  memset(first, 0xff, (n + 1) * sizeof *first); /* G_MAXUINT: none */
  for (guint i = n; i > 0; i--) {
    const HfNest *nest = &g_array_index(nests, HfNest, i - 1);
    if (nest->depth % 2 == 0)
      continue;
    next[i - 1] = first[nest->parent];
    first[nest->parent] = i - 1;
  }
  for (guint i = 0; i < n; i++)
    if (g_array_index(nests, HfNest, i).depth % 2 == 0)
      add_piece(reading, loops, i, first, next);
}

/* ---- layers and blocks ------------------------------------------------------------------------
 */

/* What its user says of the layer or block that a piece is on: each is joined and nested by itself,
 * so that what is metal on one does not turn to an opening for lying within another. */
typedef enum { AS_IT_LIES, AS_METAL, AS_OPENING, AS_NOTHING, N_AS } As;

static As
taken_as(const Reading *reading, const HfDxfPiece *piece)
{
  const HfDrawingWish *wish = reading->wish;
  return is_on(piece, wish->left_out)   ? AS_NOTHING
         : is_on(piece, wish->openings) ? AS_OPENING
         : is_on(piece, wish->metal)    ? AS_METAL
                                        : AS_IT_LIES;
}

static void
add_group(HfDrawing *drawing, const char *name)
{
  if (name != NULL && !hf_drawing_names(drawing->groups, name))
    g_ptr_array_add(drawing->groups, g_strdup(name));
}

/* Takes from @pieces, in their order, those of @as. */
static GPtrArray *
pieces_as(const Reading *reading, const GPtrArray *pieces, As as)
{
  GPtrArray *some = g_ptr_array_new();
  for (guint i = 0; i < pieces->len; i++)
    if (taken_as(reading, (const HfDxfPiece *)pieces->pdata[i]) == as)
      g_ptr_array_add(some, pieces->pdata[i]);
  return some;
}

/* Those that the reader has now. */
static gboolean
read_some(Reading *reading, As as)
{
  guint first = reading->drawing->pieces->len;
  if (reading->reader->pieces->len == 0 || as == AS_NOTHING)
    return TRUE;
  g_autoptr(HfDxfLoops) loops = find_loops(reading);
  if (loops == NULL)
    return FALSE;
  add_pieces(reading, loops);
  for (guint i = first; i < reading->drawing->pieces->len; i++)
    ((HfDrawingPiece *)reading->drawing->pieces->pdata[i])->opening = as == AS_OPENING;
  return TRUE;
}

/* By class, each as if it were the file; the words of those that are left out are not missed. */
static gboolean
read_classes(Reading *reading)
{
  GPtrArray *all = reading->reader->pieces;
  gboolean good = TRUE;
  for (guint i = 0; i < all->len; i++) {
    add_group(reading->drawing, ((const HfDxfPiece *)all->pdata[i])->block);
    add_group(reading->drawing, ((const HfDxfPiece *)all->pdata[i])->layer);
  }
  for (As as = AS_IT_LIES; good && as < N_AS; as++) {
    reading->reader->pieces = pieces_as(reading, all, as);
    good = read_some(reading, as);
    g_ptr_array_unref(reading->reader->pieces);
  }
  reading->reader->pieces = all;
  return good;
}

/* ---- reading --------------------------------------------------------------------------------- */

static gboolean
read_pieces(Reading *reading, const HfDrawingWish *wish)
{
  if (wish->fonts != NULL)
    hf_dxf_set_words(reading->reader, reading->drawing, wish);
  if (reading->reader->error != NULL) {
    reading->error = g_steal_pointer(&reading->reader->error);
    return FALSE;
  }
  if (!bring_to_frame(reading))
    return FALSE;
  if (!read_classes(reading))
    return FALSE;
  tell_reader(reading);
  return reading->drawing->pieces->len > 0 ||
         refuse(reading, "close its lines where they should meet",
                "no line in it is closed: it goes round nothing");
}

static HfDrawing *
read_dxf(const char *where, const char *bytes, gsize length, const HfDrawingWish *wish,
         GError **error)
{
  g_autoptr(HfDxfReader) reader = hf_dxf_read(where, bytes, length, error);
  if (reader == NULL)
    return NULL;
  g_autoptr(HfDrawing) drawing = hf_drawing_new();
  g_autoptr(GHashTable) counts = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  Reading reading = {.reader = reader, .drawing = drawing, .wish = wish, .counts = counts};
  if (read_pieces(&reading, wish))
    return g_steal_pointer(&drawing);
  g_propagate_error(error, reading.error);
  return NULL;
}

const HfDrawingReader hf_reader_dxf = {"DXF", {".dxf", NULL}, TRUE, hf_dxf_looks_like, read_dxf};
