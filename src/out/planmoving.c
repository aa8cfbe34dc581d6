/* SPDX-License-Identifier: GPL-3.0-or-later
 * planmoving.c - plan-moving.svg: the cut as it goes, many times as fast: the torch on its way, the
 * kerf growing behind it, drops falling, lying or tipping up.
 *
 *      each cut: stroke of its path, its dash pushed in from the end     CSS alone, no script; it
 *      each drop: fill of its contour, from then on                      waits while pointed at,
 * and torch: along one path of everything, key by key                   who wants no motion sees
 *                                                                        the end
 */
#include "base/text.h"
#include "out/plan-picture-private.h"

#define LEAST_S 12.0 /* how long it runs, and a tenth of the cutting's own time */
#define MOST_S  90.0
#define SHARE   0.1
#define FALL_S  0.7 /* a drop on its way */

/* When the torch is where; s of the cutting. */
typedef struct {
  double arrives, burns, ends; /* at the pierce; moving; torch off */
  double to, done;             /* mm of its whole way: at the pierce, at the end */
} Leg;

typedef struct {
  HfPlanDrawing *d;
  GArray *legs;         /* Leg, cut after cut */
  double total, length; /* s, mm */
  double fast;          /* so many times as fast */
} Film;

static double
via_length(const HfPlan *plan, HfPoint from, const HfCut *cut)
{
  double length = 0;
  for (guint k = 0; k < cut->n_via; k++) {
    HfPoint via = g_array_index(plan->vias, HfPoint, cut->first_via + k);
    length += hf_point_distance(from, via);
    from = via;
  }
  return length + hf_point_distance(from, cut->pierce);
}

static void
find_legs(Film *film, const HfShop *shop)
{
  const HfCutting *cutting = film->d->cutting;
  HfPlanTable table = hf_plan_table_of(shop);
  HfPoint here = {0, 0};
  for (guint i = 0; i < cutting->plan->cuts->len; i++) {
    const HfCut *cut = hf_plan_cut(cutting->plan, i);
    const HfCutTime *time = &g_array_index(cutting->times->cuts, HfCutTime, i);
    double way = via_length(cutting->plan, here, cut);
    Leg leg = {.arrives = film->total + hf_plan_travel_seconds(&table, way),
               .to = film->length + way};
    leg.burns = leg.arrives + shop->height_time + cutting->row.pierce_delay.usual;
    leg.ends = leg.burns + time->seconds.usual;
    leg.done = leg.to + time->length;
    film->total = leg.ends;
    film->length = leg.done;
    g_array_append_val(film->legs, leg);
    here = cut->end;
  }
}

/* ---- drawing ----------------------------------------------------------------------------------
 */

static char *
seconds(double s)
{
  return hf_text_number(s, 3);
}

/* `style="animation-delay:3.2s;animation-duration:1s"`, s of the cutting. */
static void
put_when(Film *film, double from, double lasts)
{
  g_autofree char *delay = seconds(from / film->fast);
  g_autofree char *duration = seconds(fmax(lasts / film->fast, 0.05));
  g_string_append_printf(film->d->text, " style=\"animation-delay:%ss;animation-duration:%ss\"",
                         delay, duration);
}

static void
put_kerf(Film *film, const HfCut *cut, const Leg *leg)
{
  g_string_append(film->d->text, "<path class=\"kerf\" pathLength=\"1\"");
  put_when(film, leg->burns, leg->ends - leg->burns);
  g_string_append(film->d->text, " d=\"");
  hf_plan_put_stretches(film->d, cut, TRUE);
  hf_plan_put_stretches(film->d, cut, FALSE);
  g_string_append(film->d->text, "\"/>\n");
}

/* What comes loose; the sign itself stays in its colour. */
static void
put_drop(Film *film, const HfCut *cut, guint number, const Leg *leg)
{
  static const char *const how[] = {
      [HF_DROP_FALLS] = "falls", [HF_DROP_LIES] = "lies", [HF_DROP_TIPS] = "tips"};
  static const char *const says[] = {[HF_DROP_FALLS] = ": its drop falls",
                                     [HF_DROP_LIES] = ": its drop lies on the slats",
                                     [HF_DROP_TIPS] = ": its drop may tip up"};
  HfPlanDrawing *d = film->d;
  g_string_append_printf(d->text, "<path class=\"%s\"", cut->is_part ? "part" : how[cut->drop]);
  put_when(film, leg->ends, FALL_S * film->fast);
  g_string_append(d->text, " d=\"");
  hf_plan_put_stretches(d, cut, FALSE);
  g_string_append(d->text, "Z\">");
  hf_plan_put_title(d, cut, number, cut->is_part ? ": comes loose" : says[cut->drop]);
  g_string_append(d->text, "</path>\n");
}

static void
put_now(Film *film, const HfCut *cut, guint number, const Leg *leg)
{
  HfPlanDrawing *d = film->d;
  double from = number == 1 ? 0 : g_array_index(film->legs, Leg, number - 2).ends;
  g_autofree char *name = g_markup_escape_text(cut->name, -1);
  g_string_append(d->text, "<text class=\"now\"");
  put_when(film, from, leg->ends - from);
  hf_plan_put(d, "x", d->large / 2);
  hf_plan_put(d, "y", d->large * 1.2);
  hf_plan_put(d, "font-size", d->large);
  g_string_append_printf(d->text, ">%u of %u: %s</text>\n", number,
                         film->d->cutting->plan->cuts->len, name);
}

/* ---- the torch --------------------------------------------------------------------------------
 */

static void
put_way(Film *film)
{
  HfPlanDrawing *d = film->d;
  const HfPlan *plan = d->cutting->plan;
  HfPath path = {d->text, hf_point(0, d->height), HF_PLAN_DECIMALS};
  hf_path_move(&path, hf_point(0, 0));
  HfPoint here = {0, 0};
  for (guint i = 0; i < plan->cuts->len; i++) {
    const HfCut *cut = hf_plan_cut(plan, i);
    for (guint k = 0; k <= cut->n_via; k++) {
      HfPoint to =
          k < cut->n_via ? g_array_index(plan->vias, HfPoint, cut->first_via + k) : cut->pierce;
      HfCurve line = {.kind = HF_CURVE_LINE, .p0 = here, .p1 = to};
      hf_path_curve(&path, &line);
      here = to;
    }
    for (guint k = 0; k < cut->n; k++)
      hf_path_curve(&path, &hf_plan_stretch(plan, cut->first + k)->curve);
    here = cut->end;
  }
}

static void
put_key(Film *film, double at, double where)
{
  g_autofree char *when = hf_text_number(100 * at / film->total, 4);
  g_autofree char *far = hf_text_number(100 * where / film->length, 4);
  g_string_append_printf(film->d->text, "%s%%{offset-distance:%s%%}", when, far);
}

static void
put_torch(Film *film)
{
  HfPlanDrawing *d = film->d;
  g_autofree char *lasts = seconds(film->total / film->fast);
  g_string_append(d->text, "<style>@keyframes go{0%{offset-distance:0%}");
  for (guint i = 0; i < film->legs->len; i++) {
    const Leg *leg = &g_array_index(film->legs, Leg, i);
    put_key(film, leg->arrives, leg->to);
    put_key(film, leg->burns, leg->to);
    put_key(film, leg->ends, leg->done);
  }
  g_string_append_printf(d->text,
                         "}\n#torch{offset-rotate:0deg;offset-distance:100%%;animation:go "
                         "%ss linear both;offset-path:path('",
                         lasts);
  put_way(film);
  g_string_append(d->text, "')}</style>\n<circle id=\"torch\" fill=\"#b3261e\" stroke=\"#fff\"");
  hf_plan_put(d, "stroke-width", d->large / 10);
  hf_plan_put(d, "r", d->large / 2.5);
  g_string_append(d->text, "/>\n");
}

/* ---- the file ---------------------------------------------------------------------------------
 */

/* Without motion all is shown as it ends. */
static const char *const style =
    "<style>\n"
    "#sheet{fill:#d8d8d2}.kerf{fill:none;stroke:#444;stroke-linecap:round;stroke-linejoin:round;"
    "stroke-dasharray:1}\n"
    ".falls{fill:#fbfbf8}.lies{fill:#eceadd}.tips{fill:#ffd21f}.part{fill:#9fb0bb}\n"
    ".now{font-family:sans-serif;fill:#222;opacity:0}\n"
    "@media (prefers-reduced-motion:no-preference){\n"
    ".kerf{animation:burn linear both}.falls,.lies,.tips,.part{animation:loose ease-in both}\n"
    ".now{animation:now step-end}\n"
    "svg:hover *{animation-play-state:paused!important}}\n"
    "@media (prefers-reduced-motion:reduce){#torch{animation:none!important}}\n"
    "@keyframes burn{from{stroke-dashoffset:1}to{stroke-dashoffset:0}}\n"
    "@keyframes loose{from{opacity:0}to{opacity:1}}\n"
    "@keyframes now{from{opacity:1}to{opacity:1}}\n"
    "</style>\n";

static void
put_legend(Film *film)
{
  g_autofree char *fast = hf_text_number(film->fast, 0);
  g_autofree char *says =
      g_strdup_printf("%s times as fast as it is cut; it waits while the pointer is on it", fast);
#define PATCH(colour)                                                                              \
  "<rect x=\"-1\" y=\"-0.4\" width=\"2.6\" height=\"0.8\" stroke=\"#444\" stroke-width=\"0.06\" "  \
  "fill=\"" colour "\"/>"
  hf_plan_tell(film->d, "<circle r=\"0.4\" fill=\"#b3261e\"/>", says);
  hf_plan_tell(film->d, PATCH("#fbfbf8"), "its drop falls between the slats");
  hf_plan_tell(film->d, PATCH("#eceadd"), "its drop lies on the slats");
  hf_plan_tell(film->d, PATCH("#ffd21f"), "its drop may tip up: mind the torch");
  hf_plan_tell(film->d, PATCH("#9fb0bb"), "the sign, loose");
}

/* The outside is drawn first: what lies in it is on top of it. */
static void
put_cuts(Film *film)
{
  const HfPlan *plan = film->d->cutting->plan;
  for (guint pass = 0; pass < 2; pass++)
    for (guint i = plan->cuts->len; i-- > 0;) {
      const HfCut *cut = hf_plan_cut(plan, i);
      if (cut->is_part == (pass == 0))
        put_drop(film, cut, i + 1, &g_array_index(film->legs, Leg, i));
    }
  g_string_append(film->d->text, "<g");
  hf_plan_put(film->d, "stroke-width", film->d->cutting->kerf);
  g_string_append(film->d->text, ">\n");
  for (guint i = 0; i < plan->cuts->len; i++)
    put_kerf(film, hf_plan_cut(plan, i), &g_array_index(film->legs, Leg, i));
  g_string_append(film->d->text, "</g>\n");
}

static GBytes *
write_moving(const HfMaking *making, const HfFormat *format G_GNUC_UNUSED,
             GError **error G_GNUC_UNUSED)
{
  const HfPlan *plan = making->cutting->plan;
  HfPlanDrawing d = hf_plan_drawing(making->cutting, "how it is cut, moving", style);
  Film film = {&d, g_array_new(FALSE, FALSE, sizeof(Leg)), 0, 0, 1};
  find_legs(&film, making->sign->shop);
  film.fast = fmax(film.total / CLAMP(SHARE * film.total, LEAST_S, MOST_S), 1);
  put_cuts(&film);
  for (guint i = 0; i < plan->cuts->len; i++)
    put_now(&film, hf_plan_cut(plan, i), i + 1, &g_array_index(film.legs, Leg, i));
  if (plan->cuts->len > 0)
    put_torch(&film);
  put_legend(&film);
  g_array_unref(film.legs);
  return hf_plan_drawing_end(&d);
}

HF_FORMATS(planmoving, {.about = HF_ABOUT_PLAN,
                        .ending = "-moving.svg",
                        .type = "image/svg+xml",
                        .says = "the cut as it goes, many times as fast",
                        .option = "moving",
                        .write = write_moving});
