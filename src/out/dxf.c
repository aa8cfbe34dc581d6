/* SPDX-License-Identifier: GPL-3.0-or-later
 * dxf.c - the outlines as DXF: closed polylines with bulges, full circles as circles.
 *
 * A DXF file is pairs of lines, group code and value. Bulge = tan(sweep / 4) belongs to the vertex
 * that an arc leaves; > 0 counter-clockwise (handbook of the format; worked values in
 * tests/unit/test_dxf.c). Arcs over half a turn are cut in halves.
 *
 *   R2000 (AC1015)  LWPOLYLINE, unit in $INSUNITS; strict readers want tables, blocks, objects and
 *                   a handle on each thing: tables below
 *   R12 (AC1009)    POLYLINE, VERTEX, SEQEND; has no way to say its unit, so a comment does
 *
 * Layers tell outlines of parts from openings; colour 7 everywhere, the reader's own plain colour.
 * What is not to be cut says so in a comment (group 999), in the layers' names and in letters above
 * the sign: they are a TEXT on a layer of their own, which is no outline.
 */
#include "base/seen.h"
#include "base/text.h"
#include "out/format.h"
#include "out/outlines-private.h"
#include <string.h>

enum { DECIMALS = 7, BULGE_DECIMALS = 9 };

typedef struct {
  const char *edge, *openings, *letters; /* letters NULL: there are none */
} Layers;
static const Layers LAYERS[] = {
    {"NOT-TO-BE-CUT-METAL-EDGE", "NOT-TO-BE-CUT-OPENINGS", "NOT-TO-BE-CUT"},
    {"METAL-EDGE", "OPENINGS", NULL},
};

typedef struct {
  GString *text;
  gboolean r12;
  double unit; /* mm in one unit of the file */
  HfOutlinesFrame frame;
  const Layers *layers;
  guint handle; /* the last one given */
} Dxf;

/* Handles that others refer to; the rest are counted up from LAST_FIXED. */
enum {
  NO_OWNER = 0x0,
  VPORT_TABLE = 0x1,
  LTYPE_TABLE,
  LAYER_TABLE,
  STYLE_TABLE,
  VIEW_TABLE,
  UCS_TABLE,
  APPID_TABLE,
  DIMSTYLE_TABLE,
  BLOCK_TABLE,
  MODEL,
  PAPER,
  ROOT,
  GROUPS,
  LAYOUTS,
  MODEL_LAYOUT,
  PAPER_LAYOUT,
  LAST_FIXED
};

/* ---- pairs --------------------------------------------------------------------------------- */

static void
put(Dxf *dxf, int code, const char *value)
{
  g_string_append_printf(dxf->text, "%3d\n%s\n", code, value);
}

static void
put_int(Dxf *dxf, int code, int value)
{
  g_string_append_printf(dxf->text, "%3d\n%d\n", code, value);
}

static void
put_hex(Dxf *dxf, int code, guint value)
{
  g_string_append_printf(dxf->text, "%3d\n%X\n", code, value);
}

/* Reals keep a point: some readers tell them from integers by it. */
static void
put_real(Dxf *dxf, int code, double value, int decimals)
{
  g_string_append_printf(dxf->text, "%3d\n", code);
  gsize from = dxf->text->len;
  hf_text_append(dxf->text, value, decimals);
  if (strchr(dxf->text->str + from, '.') == NULL)
    g_string_append(dxf->text, ".0");
  g_string_append_c(dxf->text, '\n');
}

static void
put_length(Dxf *dxf, int code, double mm)
{
  put_real(dxf, code, mm / dxf->unit, DECIMALS);
}

/* A place in the sign's own frame: x, y and, where the entity wants it, z. */
static void
put_place(Dxf *dxf, HfPoint p, gboolean with_z)
{
  put_length(dxf, 10, p.x - dxf->frame.corner.x);
  put_length(dxf, 20, p.y - dxf->frame.corner.y);
  if (with_z)
    put_length(dxf, 30, 0);
}

/* Comments of plain ASCII: what is not, and the backslash, is \U+XXXX, so that no reader takes a
 * name for a line break. Lines of R12 hold at most 255 characters: a longer text goes on in the
 * next comment, broken at a blank. */
static void
put_comment(Dxf *dxf, const char *words)
{
  enum { WRAP = 160, MOST = 240 };
  g_autoptr(GString) line = g_string_new(NULL);
  g_autofree char *seen = hf_seen(words, FALSE);
  for (const char *p = seen; *p != '\0'; p = g_utf8_next_char(p)) {
    gunichar c = g_utf8_get_char(p);
    if (c < 0x7f && c != '\\')
      g_string_append_c(line, (char)c);
    else
      g_string_append_printf(line, "\\U+%04X", c);
    if ((line->len >= WRAP && c == ' ') || line->len >= MOST) {
      put(dxf, 999, line->str);
      g_string_truncate(line, 0);
    }
  }
  if (line->len > 0)
    put(dxf, 999, line->str);
}

static guint
put_handle(Dxf *dxf, guint owner)
{
  dxf->handle++;
  put_hex(dxf, 5, dxf->handle);
  put_hex(dxf, 330, owner);
  return dxf->handle;
}

/* ---- entities ------------------------------------------------------------------------------ */

static void
begin_entity(Dxf *dxf, const char *type, const char *layer, const char *class_name)
{
  put(dxf, 0, type);
  if (!dxf->r12) {
    put_handle(dxf, MODEL);
    put(dxf, 100, "AcDbEntity");
  }
  put(dxf, 8, layer);
  if (!dxf->r12)
    put(dxf, 100, class_name);
}

static guint
halves(const HfCurve *curve)
{
  return curve->kind == HF_CURVE_ARC && fabs(curve->sweep) > G_PI + 1e-9 ? 2 : 1;
}

static void
put_vertex(Dxf *dxf, const char *layer, HfPoint at, double bulge)
{
  if (dxf->r12)
    begin_entity(dxf, "VERTEX", layer, NULL);
  put_place(dxf, at, dxf->r12);
  if (bulge != 0)
    put_real(dxf, 42, bulge, BULGE_DECIMALS);
}

static void
put_polyline(Dxf *dxf, const char *layer, const HfCurve *curve, guint n)
{
  guint vertices = 0;
  for (guint i = 0; i < n; i++)
    vertices += halves(&curve[i]);
  begin_entity(dxf, dxf->r12 ? "POLYLINE" : "LWPOLYLINE", layer, "AcDbPolyline");
  if (dxf->r12) {
    put_int(dxf, 66, 1); /* vertices follow */
    put_place(dxf, dxf->frame.corner, TRUE);
  } else {
    put_int(dxf, 90, (int)vertices);
  }
  put_int(dxf, 70, 1); /* closed */
  for (guint i = 0; i < n; i++) {
    guint parts = halves(&curve[i]);
    double bulge = curve[i].kind == HF_CURVE_ARC ? tan(curve[i].sweep / parts / 4) : 0;
    for (guint j = 0; j < parts; j++)
      put_vertex(dxf, layer, hf_curve_point(&curve[i], j / (double)parts), bulge);
  }
  if (dxf->r12)
    begin_entity(dxf, "SEQEND", layer, NULL);
}

static void
put_contour(Dxf *dxf, const HfOutline *outline, guint i, const char *layer)
{
  guint n;
  const HfCurve *curve = hf_outline_contour(outline, i, &n);
  HfPoint centre;
  double radius;
  if (!hf_outlines_circle(outline, i, &centre, &radius)) {
    put_polyline(dxf, layer, curve, n);
    return;
  }
  begin_entity(dxf, "CIRCLE", layer, "AcDbCircle");
  put_place(dxf, centre, TRUE);
  put_length(dxf, 40, radius);
}

static void
put_letters(Dxf *dxf)
{
  double height = MAX(dxf->frame.width / 16, 4);
  HfPoint at = hf_point_add(dxf->frame.corner, hf_point(0, dxf->frame.height + height / 2));
  begin_entity(dxf, "TEXT", dxf->layers->letters, "AcDbText");
  put_place(dxf, at, TRUE);
  put_length(dxf, 40, height);
  put(dxf, 1, "NOT TO BE CUT");
  if (!dxf->r12)
    put(dxf, 100, "AcDbText");
}

static void
put_entities(Dxf *dxf, const HfSign *what)
{
  put(dxf, 0, "SECTION");
  put(dxf, 2, "ENTITIES");
  if (dxf->layers->letters != NULL)
    put_letters(dxf);
  for (guint i = 0; i < what->metal->region->rings->len; i++) {
    gboolean outer = hf_region_ring(what->metal->region, i)->parent < 0;
    put_contour(dxf, what->fit->outline, i, outer ? dxf->layers->edge : dxf->layers->openings);
  }
  put(dxf, 0, "ENDSEC");
}

/* ---- tables -------------------------------------------------------------------------------- */

static void
begin_table(Dxf *dxf, const char *name, guint handle, int n)
{
  put(dxf, 0, "TABLE");
  put(dxf, 2, name);
  if (!dxf->r12) {
    put_hex(dxf, 5, handle);
    put_hex(dxf, 330, NO_OWNER);
    put(dxf, 100, "AcDbSymbolTable");
  }
  put_int(dxf, 70, n);
  if (handle == DIMSTYLE_TABLE && !dxf->r12)
    put(dxf, 100, "AcDbDimStyleTable");
}

static void
begin_record(Dxf *dxf, const char *table, guint owner, const char *class_name, const char *name)
{
  put(dxf, 0, table);
  if (!dxf->r12) {
    put_handle(dxf, owner);
    put(dxf, 100, "AcDbSymbolTableRecord");
    put(dxf, 100, class_name);
  }
  put(dxf, 2, name);
  put_int(dxf, 70, 0);
}

static void
put_line_types(Dxf *dxf)
{
  static const char *const names[] = {"ByBlock", "ByLayer", "Continuous"};
  int first = dxf->r12 ? 2 : 0; /* R12 knows the other two by itself */
  begin_table(dxf, "LTYPE", LTYPE_TABLE, 3 - first);
  for (int i = first; i < 3; i++) {
    begin_record(dxf, "LTYPE", LTYPE_TABLE, "AcDbLinetypeTableRecord",
                 dxf->r12 ? "CONTINUOUS" : names[i]);
    put(dxf, 3, i == 2 ? "Solid line" : "");
    put_int(dxf, 72, 65);
    put_int(dxf, 73, 0);
    put_real(dxf, 40, 0, 1);
  }
  put(dxf, 0, "ENDTAB");
}

static void
put_layers(Dxf *dxf)
{
  const char *names[] = {"0", dxf->layers->edge, dxf->layers->openings, dxf->layers->letters};
  int n = dxf->layers->letters != NULL ? 4 : 3;
  begin_table(dxf, "LAYER", LAYER_TABLE, n);
  for (int i = 0; i < n; i++) {
    begin_record(dxf, "LAYER", LAYER_TABLE, "AcDbLayerTableRecord", names[i]);
    put_int(dxf, 62, 7);
    put(dxf, 6, dxf->r12 ? "CONTINUOUS" : "Continuous");
  }
  put(dxf, 0, "ENDTAB");
}

static void
put_style(Dxf *dxf)
{
  begin_table(dxf, "STYLE", STYLE_TABLE, 1);
  begin_record(dxf, "STYLE", STYLE_TABLE, "AcDbTextStyleTableRecord",
               dxf->r12 ? "STANDARD" : "Standard");
  put_real(dxf, 40, 0, 1);
  put_real(dxf, 41, 1, 1);
  put_real(dxf, 50, 0, 1);
  put_int(dxf, 71, 0);
  put_real(dxf, 42, 2.5, 1);
  put(dxf, 3, "txt");
  put(dxf, 4, "");
  put(dxf, 0, "ENDTAB");
}

/* The view on opening: the whole sign. */
static void
put_view(Dxf *dxf)
{
  double width = MAX(dxf->frame.width, 1), height = MAX(dxf->frame.height, 1);
  begin_table(dxf, "VPORT", VPORT_TABLE, 1);
  begin_record(dxf, "VPORT", VPORT_TABLE, "AcDbViewportTableRecord",
               dxf->r12 ? "*ACTIVE" : "*Active");
  static const struct {
    int code;
    double value;
  } corners[] = {{10, 0}, {20, 0}, {11, 1}, {21, 1}};
  for (gsize i = 0; i < G_N_ELEMENTS(corners); i++)
    put_real(dxf, corners[i].code, corners[i].value, 1);
  put_length(dxf, 12, width / 2);
  put_length(dxf, 22, height / 2);
  static const int unit_pairs[][2] = {{13, 0}, {23, 0}, {14, 1}, {24, 1}, {15, 1}, {25, 1},
                                      {16, 0}, {26, 0}, {36, 1}, {17, 0}, {27, 0}, {37, 0}};
  for (gsize i = 0; i < G_N_ELEMENTS(unit_pairs); i++)
    put_real(dxf, unit_pairs[i][0], unit_pairs[i][1], 1);
  put_length(dxf, 40, MAX(height, width / 1.5) * 1.1);
  put_real(dxf, 41, 1.5, 1);
  put_real(dxf, 42, 50, 1);
  static const int flags[][2] = {{71, 0}, {72, 1000}, {73, 1}, {74, 3},
                                 {75, 0}, {76, 0},    {77, 0}, {78, 0}};
  for (gsize i = 0; i < G_N_ELEMENTS(flags); i++)
    put_int(dxf, flags[i][0], flags[i][1]);
  put(dxf, 0, "ENDTAB");
}

static void
put_empty_table(Dxf *dxf, const char *name, guint handle)
{
  begin_table(dxf, name, handle, 0);
  put(dxf, 0, "ENDTAB");
}

static void
put_dimension_style(Dxf *dxf)
{
  begin_table(dxf, "DIMSTYLE", DIMSTYLE_TABLE, 1);
  put(dxf, 0, "DIMSTYLE");
  put_hex(dxf, 105, ++dxf->handle); /* the one record whose handle has another code */
  put_hex(dxf, 330, DIMSTYLE_TABLE);
  put(dxf, 100, "AcDbSymbolTableRecord");
  put(dxf, 100, "AcDbDimStyleTableRecord");
  put(dxf, 2, "Standard");
  put_int(dxf, 70, 0);
  put(dxf, 0, "ENDTAB");
}

static const struct {
  const char *name;
  guint handle, layout;
} SPACES[] = {{"*Model_Space", MODEL, MODEL_LAYOUT}, {"*Paper_Space", PAPER, PAPER_LAYOUT}};

static void
put_block_records(Dxf *dxf)
{
  begin_table(dxf, "BLOCK_RECORD", BLOCK_TABLE, 2);
  for (gsize i = 0; i < G_N_ELEMENTS(SPACES); i++) {
    put(dxf, 0, "BLOCK_RECORD");
    put_hex(dxf, 5, SPACES[i].handle);
    put_hex(dxf, 330, BLOCK_TABLE);
    put(dxf, 100, "AcDbSymbolTableRecord");
    put(dxf, 100, "AcDbBlockTableRecord");
    put(dxf, 2, SPACES[i].name);
    put_hex(dxf, 340, SPACES[i].layout);
  }
  put(dxf, 0, "ENDTAB");
}

static void
put_tables(Dxf *dxf)
{
  put(dxf, 0, "SECTION");
  put(dxf, 2, "TABLES");
  put_view(dxf);
  put_line_types(dxf);
  put_layers(dxf);
  put_style(dxf);
  if (!dxf->r12) {
    put_empty_table(dxf, "VIEW", VIEW_TABLE);
    put_empty_table(dxf, "UCS", UCS_TABLE);
    begin_table(dxf, "APPID", APPID_TABLE, 1);
    begin_record(dxf, "APPID", APPID_TABLE, "AcDbRegAppTableRecord", "ACAD");
    put(dxf, 0, "ENDTAB");
    put_dimension_style(dxf);
    put_block_records(dxf);
  }
  put(dxf, 0, "ENDSEC");
}

/* ---- blocks and objects: R2000 only -------------------------------------------------------- */

static void
begin_block_part(Dxf *dxf, const char *type, guint owner, const char *class_name)
{
  put(dxf, 0, type);
  put_handle(dxf, owner);
  put(dxf, 100, "AcDbEntity");
  put(dxf, 8, "0");
  put(dxf, 100, class_name);
}

static void
put_blocks(Dxf *dxf)
{
  put(dxf, 0, "SECTION");
  put(dxf, 2, "BLOCKS");
  for (gsize i = 0; i < G_N_ELEMENTS(SPACES); i++) {
    begin_block_part(dxf, "BLOCK", SPACES[i].handle, "AcDbBlockBegin");
    put(dxf, 2, SPACES[i].name);
    put_int(dxf, 70, 0);
    put_place(dxf, dxf->frame.corner, TRUE);
    put(dxf, 3, SPACES[i].name);
    put(dxf, 1, "");
    begin_block_part(dxf, "ENDBLK", SPACES[i].handle, "AcDbBlockEnd");
  }
  put(dxf, 0, "ENDSEC");
}

static void
begin_object(Dxf *dxf, const char *type, guint handle, guint owner, const char *class_name)
{
  put(dxf, 0, type);
  put_hex(dxf, 5, handle);
  put_hex(dxf, 330, owner);
  put(dxf, 100, class_name);
}

static void
put_dictionary_item(Dxf *dxf, const char *key, guint handle)
{
  put(dxf, 3, key);
  put_hex(dxf, 350, handle);
}

/* What every layout says; the values are those of a plain sheet without a printer. */
static void
put_layout(Dxf *dxf, gsize i)
{
  static const struct {
    int code;
    const char *value;
  } plot[] = {{1, ""},      {2, "none_device"}, {4, ""},      {6, ""},      {40, "0.0"},
              {41, "0.0"},  {42, "0.0"},        {43, "0.0"},  {44, "0.0"},  {45, "0.0"},
              {46, "0.0"},  {47, "0.0"},        {48, "0.0"},  {49, "0.0"},  {140, "0.0"},
              {141, "0.0"}, {142, "1.0"},       {143, "1.0"}, {70, "1712"}, {72, "0"},
              {73, "0"},    {74, "0"},          {7, ""},      {75, "0"},    {147, "1.0"},
              {148, "0.0"}, {149, "0.0"}},
    layout[] = {{10, "0.0"}, {20, "0.0"},  {11, "12.0"}, {21, "9.0"}, {12, "0.0"}, {22, "0.0"},
                {32, "0.0"}, {14, "0.0"},  {24, "0.0"},  {34, "0.0"}, {15, "0.0"}, {25, "0.0"},
                {35, "0.0"}, {146, "0.0"}, {13, "0.0"},  {23, "0.0"}, {33, "0.0"}, {16, "1.0"},
                {26, "0.0"}, {36, "0.0"},  {17, "0.0"},  {27, "1.0"}, {37, "0.0"}, {76, "0"}};
  begin_object(dxf, "LAYOUT", SPACES[i].layout, LAYOUTS, "AcDbPlotSettings");
  for (gsize k = 0; k < G_N_ELEMENTS(plot); k++)
    put(dxf, plot[k].code, plot[k].value);
  put(dxf, 100, "AcDbLayout");
  put(dxf, 1, i == 0 ? "Model" : "Layout1");
  put_int(dxf, 70, 1);
  put_int(dxf, 71, (int)i);
  for (gsize k = 0; k < G_N_ELEMENTS(layout); k++)
    put(dxf, layout[k].code, layout[k].value);
  put_hex(dxf, 330, SPACES[i].handle);
}

static void
put_objects(Dxf *dxf)
{
  put(dxf, 0, "SECTION");
  put(dxf, 2, "OBJECTS");
  begin_object(dxf, "DICTIONARY", ROOT, NO_OWNER, "AcDbDictionary");
  put_dictionary_item(dxf, "ACAD_GROUP", GROUPS);
  put_dictionary_item(dxf, "ACAD_LAYOUT", LAYOUTS);
  begin_object(dxf, "DICTIONARY", GROUPS, ROOT, "AcDbDictionary");
  begin_object(dxf, "DICTIONARY", LAYOUTS, ROOT, "AcDbDictionary");
  put_dictionary_item(dxf, "Model", MODEL_LAYOUT);
  put_dictionary_item(dxf, "Layout1", PAPER_LAYOUT);
  for (gsize i = 0; i < G_N_ELEMENTS(SPACES); i++)
    put_layout(dxf, i);
  put(dxf, 0, "ENDSEC");
}

/* ---- head ---------------------------------------------------------------------------------- */

static void
put_extent(Dxf *dxf, const char *name, double width, double height)
{
  put(dxf, 9, name);
  put_length(dxf, 10, width);
  put_length(dxf, 20, height);
  put_length(dxf, 30, 0);
}

static void
put_header(Dxf *dxf, guint next_handle)
{
  gboolean inches = dxf->unit != 1;
  put(dxf, 0, "SECTION");
  put(dxf, 2, "HEADER");
  put(dxf, 9, "$ACADVER");
  put(dxf, 1, dxf->r12 ? "AC1009" : "AC1015");
  put_extent(dxf, "$INSBASE", 0, 0);
  put_extent(dxf, "$EXTMIN", 0, 0);
  put_extent(dxf, "$EXTMAX", dxf->frame.width, dxf->frame.height);
  if (!dxf->r12) {
    put(dxf, 9, "$DWGCODEPAGE");
    put(dxf, 3, "ANSI_1252");
    put(dxf, 9, "$INSUNITS");
    put_int(dxf, 70, inches ? 1 : 4);
    put(dxf, 9, "$MEASUREMENT");
    put_int(dxf, 70, inches ? 0 : 1);
    put(dxf, 9, "$HANDSEED");
    put_hex(dxf, 5, next_handle);
  }
  put(dxf, 0, "ENDSEC");
}

static void
put_comments(Dxf *dxf, const HfSign *what)
{
  g_auto(GStrv) says = hf_outlines_says(what);
  put_comment(dxf, what->recipe->sign != NULL ? what->recipe->sign : "sign");
  for (guint i = 0; says[i] != NULL; i++)
    put_comment(dxf, says[i]);
  put_comment(dxf, dxf->unit != 1 ? "unit: inches" : "unit: millimetres");
}

GBytes *
hf_out_dxf(const HfSign *what, HfDxfVersion version, gboolean inches)
{
  Dxf dxf = {.r12 = version == HF_DXF_R12,
             .unit = inches ? 25.4 : 1,
             .frame = hf_outlines_frame(what),
             .layers = &LAYERS[what->hold->whole ? 1 : 0],
             .handle = LAST_FIXED};
  /* the body first: the header wants to know the next handle */
  dxf.text = g_string_sized_new(1 << 17);
  put_tables(&dxf);
  if (!dxf.r12)
    put_blocks(&dxf);
  put_entities(&dxf, what);
  if (!dxf.r12)
    put_objects(&dxf);
  put(&dxf, 0, "EOF");
  GString *body = dxf.text;
  dxf.text = g_string_sized_new(body->len + 4096);
  put_comments(&dxf, what);
  put_header(&dxf, dxf.handle + 1);
  g_string_append_len(dxf.text, body->str, (gssize)body->len);
  g_string_free(body, TRUE);
  return g_string_free_to_bytes(dxf.text);
}

static GBytes *
write_r2000(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)error;
  return hf_out_dxf(making->sign, HF_DXF_R2000, format->inches);
}

static GBytes *
write_r12(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)error;
  return hf_out_dxf(making->sign, HF_DXF_R12, format->inches);
}

#define TYPE "image/vnd.dxf"
HF_FORMATS(dxf,
           {.about = HF_ABOUT_OUTLINES,
            .ending = ".dxf",
            .type = TYPE,
            .says = "the outlines as DXF, in millimetres",
            .write = write_r2000},
           {.about = HF_ABOUT_OUTLINES,
            .ending = "-in.dxf",
            .type = TYPE,
            .says = "the outlines as DXF, in inches",
            .option = "dxf-inch",
            .inches = TRUE,
            .write = write_r2000},
           {.about = HF_ABOUT_OUTLINES,
            .ending = "-r12-mm.dxf",
            .type = TYPE,
            .says = "in millimetres, for machines that read older DXF only",
            .option = "dxf-r12-mm",
            .write = write_r12},
           {.about = HF_ABOUT_OUTLINES,
            .ending = "-r12-in.dxf",
            .type = TYPE,
            .says = "in inches, for machines that read older DXF only",
            .option = "dxf-r12-inch",
            .inches = TRUE,
            .write = write_r12});
