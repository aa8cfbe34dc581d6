/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_dxf.c - any bytes as a DXF file, of text or binary: refused in words or read, joined and
 * nested, and no curve of it is nowhere.
 */
#include "drawing/drawing.h"
#include "drawing/dxf-private.h"
#include "drawing/join-private.h"
#include "drawing/nest-private.h"

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

static void
check_run(const GArray *run)
{
  for (guint i = 0; i < run->len; i++) {
    HfPoint middle = hf_curve_point(&g_array_index(run, HfCurve, i), 0.5);
    g_assert(isfinite(middle.x) && isfinite(middle.y));
  }
}

static GArray *
strands_of(const HfDxfReader *reader)
{
  GArray *strands = g_array_new(FALSE, FALSE, sizeof(HfStrand));
  for (guint i = 0; i < reader->pieces->len; i++) {
    const HfDxfPiece *piece = (const HfDxfPiece *)reader->pieces->pdata[i];
    for (guint j = 0; j < piece->runs->len; j++) {
      HfStrand strand = {piece->runs->pdata[j], piece->closed || piece->how == HF_DXF_FILLED, i};
      check_run(strand.curves);
      g_array_append_val(strands, strand);
    }
  }
  return strands;
}

/* As the door does: brought to a known size first. */
static void
nest(const HfJoined *joined)
{
  g_autoptr(HfOutline) all = hf_outline_new(), moved = hf_outline_new();
  for (guint i = 0; i < joined->loops->len; i++) {
    const HfChain *loop = (const HfChain *)joined->loops->pdata[i];
    guint start = all->curves->len;
    check_run(loop->curves);
    g_array_append_val(all->starts, start);
    g_array_append_vals(all->curves, loop->curves->data, loop->curves->len);
  }
  HfBox box = hf_outline_box(all);
  double longer = MAX(hf_box_width(box), hf_box_height(box));
  if (!(longer > 0))
    return;
  HfMatrix m = hf_matrix_move(-hf_box_centre(box).x, -hf_box_centre(box).y);
  hf_outline_append(moved, all, hf_matrix_then(m, hf_matrix_scale(1000 / longer, 1000 / longer)));
  g_autoptr(GArray) nests = hf_nest(moved), crossings = hf_nest_crossings(moved, 10);
  g_assert(nests->len == hf_outline_n_contours(moved) && crossings->len <= 10);
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(HfDxfReader) reader = hf_dxf_read("f.dxf", (const char *)data, size, &error);
  g_assert((reader == NULL) == (error != NULL));
  if (error != NULL) {
    g_assert(error->domain == HF_ERROR && error->code != HF_ERROR_BUG);
    return 0;
  }
  g_autoptr(GArray) strands = strands_of(reader);
  g_autoptr(HfJoined) joined =
      hf_join((const HfStrand *)(gpointer)strands->data, strands->len, HF_JOIN_MM);
  nest(joined);
  g_autoptr(GError) why = NULL;
  g_autoptr(HfDrawing) drawing = hf_drawing_read("f.dxf", data, size, &why);
  g_assert((drawing == NULL) == (why != NULL) && (why == NULL || why->code != HF_ERROR_BUG));
  return 0;
}
