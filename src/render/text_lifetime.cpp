#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include "mendworth/render.hpp"
#include "render/layout.hpp"
#include "render/lifetime_plot.hpp"
#include "render/lifetime_words.hpp"
#include "render/number_text.hpp"
#include "render/page.hpp"

namespace mendworth {

namespace {

constexpr std::size_t most_step_rows = 15;
constexpr double poor_fit = 0.05;  ///< chances below this speak against a law
constexpr double proven = 0.01;    ///< differences that come by chance less often are taken as real
constexpr double probable = 0.05;
constexpr double worth_a_look = 0.20;
constexpr int picture_indent = 2;

std::string list_text(const std::vector<std::string>& items) {
  constexpr std::size_t most = 5;
  std::string text;
  for (std::size_t i = 0; i < std::min(items.size(), most); ++i)
    text += (i == 0 ? "'" : ", '") + items[i] + "'";
  return items.size() > most ? text + fmt::format(" and {} more", items.size() - most) : text;
}

bool grouped(const Lifetime& l) { return l.groups.size() > 1 || !l.groups.front().name.empty(); }

std::string ages(const Lifetime& l, double age) {
  return kept_together(life_text(age) + " " + name_of(l.unit));
}

void record_section(Page& page, const Lifetime& l) {
  double pieces = 0;
  for (const GroupLifetime& group : l.groups) pieces += pieces_of(group);
  page.paragraph(fmt::format("Record: {}{}, {} {}, ages in {}.", l.source_name,
                             l.part.empty() ? "" : fmt::format(", part '{}'", l.part), number_text(pieces),
                             pieces == 1 ? "piece" : "pieces", name_of(l.unit)));
  const bool one_group_each =
      std::equal(l.groups.begin(), l.groups.end(), l.parts.begin(), l.parts.end(),
                 [](const GroupLifetime& g, const std::string& part) { return g.name == part; });
  if (l.parts.size() > 1 && !one_group_each) {
    page.paragraph(
        fmt::format("Several parts are taken as one here: {}. Choose one with --part.", list_text(l.parts)));
  }
}

std::string wear_sentence(const WeibullFit& fit, const std::string& limits_name) {
  const LifeEstimate& shape = fit.shape;
  const std::string figures = fmt::format("shape {}, {} {}", life_text(shape.value), limits_name,
                                          life_limits_text(shape.profile_low, shape.profile_high));
  if (shape.profile_low > 1) {
    return fmt::format("They wear out: the older a piece, the sooner the next failure ({}).", figures);
  }
  if (shape.profile_high < 1) {
    return fmt::format(
        "They fail early: a piece that has lasted is better than a new one ({}). That points to faults of "
        "making or "
        "fitting, not to wear.",
        figures);
  }
  return fmt::format(
      "Whether they wear out, or fail at any age alike, cannot be told from so few failures ({}).", figures);
}

void headline(Page& page, const Lifetime& l, const GroupLifetime& group) {
  const bool named = !group.name.empty();
  const std::string name = named ? fmt::format("{}: ", group.name) : "";
  if (!group.fit) {
    page.paragraph(fmt::format("{}{} Weibull law. {}", name, named ? "no" : "No", group.no_fit_reason), true);
    return;
  }
  const WeibullFit& fit = *group.fit;
  const std::string limits_name = fmt::format("{} limits", confidence_text(l.confidence));
  page.paragraph(fmt::format("{}{} of these pieces fail by {} ({} {}), one in ten by {}.", name,
                             named ? "half" : "Half", ages(l, fit.median.value), limits_name,
                             life_limits_text(fit.median.profile_low, fit.median.profile_high),
                             life_text(fit.b10.value)),
                 true);
  page.paragraph(wear_sentence(fit, limits_name));
}

void limit_paragraph(Page& page, const Lifetime& l, const OneSidedLimit& limit) {
  page.paragraph(fmt::format("If they wear with shape {} (assumed, not found here), then with {} confidence "
                             "half of them reach {} "
                             "or more, and nine in ten reach {}; the scale is at least {}.",
                             number_text(limit.assumed_shape), confidence_text(limit.confidence),
                             ages(l, limit.median_at_least), life_text(limit.b10_at_least),
                             life_text(limit.scale_at_least)),
                 false, 2);
}

void counts_section(Page& page, const Lifetime& l) {
  page.heading("What was counted (pieces)");
  std::vector<Table::Column> columns;
  if (grouped(l)) columns.push_back({"group", Table::Align::left, true});
  for (const char* heading : {"failure\nseen", "failed\nbetween looks", "failed before\nthe first look",
                              "still\nworking", "came under\nwatch later"}) {
    columns.push_back({heading});
  }
  columns.push_back({fmt::format("watched\n({})", name_of(l.unit))});
  Table table(columns);
  const auto add = [&](const GroupLifetime& group, const std::string& name) {
    std::vector<std::string> cells;
    if (grouped(l)) cells.push_back(name);
    for (const double pieces :
         {group.failed_exact, group.failed_between, group.failed_before, group.working, group.truncated}) {
      cells.push_back(number_text(pieces));
    }
    cells.push_back(life_text(group.total_time));
    table.add_row(cells);
  };
  for (const GroupLifetime& group : l.groups) add(group, group.name);
  if (l.all) add(*l.all, "all");
  page.table(table);
  if (std::any_of(l.groups.begin(), l.groups.end(), [](const GroupLifetime& g) { return g.truncated > 0; })) {
    page.paragraph(
        "Pieces that came under watch later are counted in one of the other columns too. What failed before "
        "it could "
        "be watched is in no record, and the estimates allow for that.",
        false, 2);
  }
}

void estimates_table(Page& page, const Lifetime& l, const WeibullFit& fit) {
  const std::string limits = with_plain_spaces(confidence_text(l.confidence)) + " limits:\n";
  Table table({{fmt::format("Weibull law\n({})", name_of(l.unit)), Table::Align::left},
               {"estimate"},
               {"standard\nerror"},
               {limits + "profile likelihood"},
               {limits + "normal approximation"}});
  const auto add = [&](const std::string& name, const LifeEstimate& e) {
    table.add_row({name, life_text(e.value), e.error ? life_text(*e.error) : "-",
                   life_limits_text(e.profile_low, e.profile_high),
                   life_limits_text(e.normal_low, e.normal_high)});
  };
  add("shape", fit.shape);
  add("scale", fit.scale);
  add("median life", fit.median);
  add("B10 life", fit.b10);
  for (const TimedShare& share : fit.at_times) {
    const LifeEstimate& e = share.working;
    table.add_row({fmt::format("working at {}", number_text(share.time)), percent_text(e.value),
                   e.error ? percent_text(*e.error) : "-", share_limits_text(e.profile_low, e.profile_high),
                   share_limits_text(e.normal_low, e.normal_high)});
  }
  page.table(table);
  page.paragraph("By the scale 63.2 % have failed, by the median life half, by the B10 life one in ten.",
                 false, 2);
  page.paragraph(
      fmt::format("Log-likelihood {}. Of (ln scale, ln shape): variances {:.5g} and {:.5g}, covariance "
                  "{:.5g}.",
                  decimals_text(fit.log_likelihood, 4), fit.var_log_scale, fit.var_log_shape,
                  fit.cov_log_scale_log_shape),
      false, 2);
}

void test_paragraph(Page& page, const FitTest& test) {
  const std::string verdict = test.chance < poor_fit ? "the law describes this record poorly. Look where the "
                                                       "plot bends: two causes of failure may be mixed in it"
                                                     : "nothing in this record speaks against the law";
  page.paragraph(
      fmt::format("Does a Weibull law fit? {}: statistic {}, chance {} of one as large if it does: {}.",
                  test.method, number_text(test.statistic), chance_text(test.chance), verdict),
      false, 2);
}

// A long record has thousands of steps: some of them, evenly, with the first and the last.
std::vector<std::size_t> shown_steps(std::size_t count) {
  std::vector<std::size_t> shown;
  if (count <= most_step_rows) {
    for (std::size_t i = 0; i < count; ++i) shown.push_back(i);
  } else {
    for (std::size_t i = 0; i < most_step_rows; ++i) shown.push_back(i * (count - 1) / (most_step_rows - 1));
  }
  return shown;
}

void curve_table(Page& page, const Lifetime& l, const SurvivalCurve& curve) {
  if (curve.steps.empty()) return;
  page.empty_line();
  std::vector<Table::Column> columns = {{fmt::format("age\n({})", name_of(l.unit))}};
  if (!curve.by_intervals) columns.insert(columns.end(), {{"pieces\nwatched"}, {"failed"}});
  columns.push_back({"still\nworking"});
  if (!curve.by_intervals) {
    columns.insert(columns.end(),
                   {{"standard\nerror"}, {with_plain_spaces(confidence_text(l.confidence)) + "\nlimits"}});
  }
  Table table(columns);
  const std::vector<std::size_t> shown = shown_steps(curve.steps.size());
  for (const std::size_t i : shown) {
    const SurvivalStep& step = curve.steps[i];
    std::vector<std::string> cells = {number_text(step.time)};
    if (!curve.by_intervals) cells.insert(cells.end(), {number_text(step.at_risk), number_text(step.failed)});
    cells.push_back(percent_text(step.working));
    if (!curve.by_intervals) {
      cells.insert(cells.end(), {percent_text(step.error), share_limits_text(step.low, step.high)});
    }
    table.add_row(cells);
  }
  page.table(table);
  page.paragraph(
      curve.by_intervals
          ? "Without any law: Turnbull's estimate from intervals; it has no simple limits."
          : "Without any law: Kaplan and Meier's product limit, Greenwood's standard errors and limits.",
      false, 2);
  if (shown.size() < curve.steps.size()) {
    page.paragraph(fmt::format("{} of {} steps; --format json has all.", shown.size(),
                               grouped_text(static_cast<long long>(curve.steps.size()))),
                   false, 2);
  }
}

void group_section(Page& page, const Lifetime& l, const GroupLifetime& group, const std::string& heading,
                   int width) {
  const bool has_headline = !l.all || &group != &*l.all;
  if (has_headline && !group.fit && !group.limit && group.curve.steps.empty()) return;  // all is said
  page.heading(heading);
  if (group.fit) estimates_table(page, l, *group.fit);
  if (!group.fit && !has_headline) page.paragraph(group.no_fit_reason, false, 2);
  if (group.limit) limit_paragraph(page, l, *group.limit);
  if (group.test) test_paragraph(page, *group.test);
  const auto picture = lifetime_plot(group, l.unit, l.confidence, width - picture_indent);
  if (!picture.empty()) {
    page.empty_line();
    page.picture(picture);
  }
  curve_table(page, l, group.curve);
}

/// What the chance says that a group would be spared so if it were no better.
std::string better_words(const std::string& name, double chance) {
  if (chance < proven) return fmt::format("'{}' is better", name);
  if (chance < probable) return fmt::format("'{}' is probably better", name);
  if (chance < worth_a_look) return "a hint and no more: keep watching";
  return "no difference is shown, which does not show that there is none";
}

std::string limit_on_ratio(const Lifetime& l, double at_least, const std::string& better,
                           const std::string& other) {
  const std::string limit_name = fmt::format(
      "{} limit by profile likelihood, both taken to wear with one shape", confidence_text(l.confidence));
  if (!is_limit(at_least)) {
    return fmt::format(
        "The median life of '{}' may be longer than that of '{}' or shorter: this record sets it no lower "
        "limit.",
        better, other);
  }
  const std::string ratio = life_text(at_least);
  if (at_least > 1) {
    return fmt::format("The median life of '{}' is at least {} times that of '{}' ({}).", better, ratio,
                       other, limit_name);
  }
  return fmt::format(
      "The median life of '{}' may be longer than that of '{}' or shorter: it is at least {} times as long "
      "({}).",
      better, other, ratio, limit_name);
}

void failure_free_paragraphs(Page& page, const Lifetime& l, const GroupComparison& c) {
  const GroupLifetime& unfailed = l.groups.at(c.failure_free->group);
  const std::string& other = l.groups.at(1 - c.failure_free->group).name;
  const double pieces = pieces_of(unfailed);
  page.paragraph(fmt::format("{} {}",
                             pieces == 1 ? fmt::format("The one '{}' piece has not failed.", unfailed.name)
                                         : fmt::format("None of the {} '{}' pieces has failed.",
                                                       number_text(pieces), unfailed.name),
                             limit_on_ratio(l, c.failure_free->median_ratio_at_least, unfailed.name, other)),
                 true);
  page.paragraph(
      fmt::format("If both lasted alike, all failures would have fallen on '{}' with chance {}: {}.", other,
                  chance_text(c.chance), better_words(unfailed.name, c.chance)));
  page.paragraph(
      fmt::format(
          "Likelihood ratio against one law for both: statistic {}, chance exp(-statistic/2), which is exact "
          "for a known shape. Without failures in '{}' its best law is an endless life at any shape: no "
          "estimate and no upper limit of the ratio exist.",
          number_text(c.statistic), unfailed.name),
      false, 2);
}

/// What the chance of so large a difference between like groups says.
std::string difference_words(double chance) {
  if (chance < proven) return "they differ";
  if (chance < probable) return "they probably differ";
  if (chance < worth_a_look) return "a hint and no more: note further failures";
  return "no difference is shown, which does not show that there is none";
}

void two_groups(Page& page, const Lifetime& l, const LifeEstimate& ratio) {
  const std::string first = l.groups[0].name;
  const std::string second = l.groups[1].name;
  const bool longer = ratio.value >= 1;
  page.paragraph(
      fmt::format("Does '{}' last longer than '{}'? Its median life is {} times as long ({} limits {}, "
                  "normal approximation).",
                  longer ? second : first, longer ? first : second,
                  life_text(longer ? ratio.value : 1 / ratio.value), confidence_text(l.confidence),
                  longer ? life_limits_text(ratio.normal_low, ratio.normal_high)
                         : life_limits_text(is_limit(ratio.normal_high) ? 1 / ratio.normal_high : 0,
                                            is_limit(ratio.normal_low) ? 1 / ratio.normal_low : 0)),
      true);
}

void comparison_section(Page& page, const Lifetime& l) {
  if (!l.comparison) {
    if (l.no_comparison_reason.empty()) return;
    page.heading("Are the groups alike?");
    page.paragraph(l.no_comparison_reason, false, 2);
    return;
  }
  const GroupComparison& c = *l.comparison;
  page.heading("Are the groups alike?");
  if (c.failure_free) {
    failure_free_paragraphs(page, l, c);
    return;
  }
  if (c.median_ratio) two_groups(page, l, *c.median_ratio);
  page.paragraph(fmt::format(
      "If all lasted alike, chance alone would make the lives differ as much as here with chance {}: {}.",
      chance_text(c.common_shape_chance), difference_words(c.common_shape_chance)));
  const bool shapes_only = c.chance < probable && c.common_shape_chance >= probable;
  if (shapes_only) {
    page.paragraph(fmt::format(
        "Yet they wear differently: with a shape for each group the chance is {}. One may be better when "
        "young and worse when old: compare their plots.",
        chance_text(c.chance)));
  }
  page.paragraph(
      fmt::format("Likelihood ratio against one law for all: with a common shape, statistic {}, {}, chance "
                  "{}; with a "
                  "shape for each group, statistic {}, {}, chance {}.",
                  number_text(c.common_shape_statistic),
                  count_text(c.common_shape_degrees, "degree of freedom", "degrees of freedom"),
                  chance_text(c.common_shape_chance), number_text(c.statistic),
                  count_text(c.degrees, "degree of freedom", "degrees of freedom"), chance_text(c.chance)),
      false, 2);
}

}  // namespace

std::string lifetime_text(const Lifetime& l, const TextStyle& style) {
  Page page(style);
  for (const GroupLifetime& group : l.groups) headline(page, l, group);
  record_section(page, l);
  comparison_section(page, l);
  counts_section(page, l);
  for (const GroupLifetime& group : l.groups) {
    group_section(page, l, group,
                  group.name.empty() ? "How long they last" : fmt::format("Group: {}", group.name),
                  style.width);
  }
  if (l.all) group_section(page, l, *l.all, "All groups as one", style.width);
  page.empty_line();
  page.paragraph(fmt::format("mendworth {}.", version()));
  return page.text();
}

}  // namespace mendworth
