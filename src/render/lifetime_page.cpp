#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/layout.hpp"
#include "render/lifetime_charts.hpp"
#include "render/lifetime_words.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr std::size_t most_step_rows = 15;
constexpr double poor_fit = 0.05;  ///< chances below this speak against a law
constexpr double proven = 0.01;    ///< differences that come by chance less often are taken as real
constexpr double probable = 0.05;
constexpr double worth_a_look = 0.20;

std::string list_text(const std::vector<std::string>& items) {
  constexpr std::size_t most = 5;
  std::string text;
  for (std::size_t i = 0; i < std::min(items.size(), most); ++i)
    text += (i == 0 ? "'" : ", '") + items[i] + "'";
  return items.size() > most ? text + fmt::format(" and {} more", items.size() - most) : text;
}

// What the page is called by: the part, or the record without where it lies.
std::string what_lasts(const Lifetime& l) {
  return l.part.empty() ? l.source_name.substr(l.source_name.rfind('/') + 1) : l.part;
}

bool grouped(const Lifetime& l) { return l.groups.size() > 1 || !l.groups.front().name.empty(); }

std::string ages(const Lifetime& l, double age) {
  return kept_together(life_text(age) + " " + name_of(l.unit));
}

void say_record(Section& section, const Lifetime& l) {
  double pieces = 0;
  for (const GroupLifetime& group : l.groups) pieces += pieces_of(group);
  section.say(fmt::format("Record: {}{}, {} {}, ages in {}.", l.source_name,
                          l.part.empty() ? "" : fmt::format(", part '{}'", l.part), number_text(pieces),
                          pieces == 1 ? "piece" : "pieces", name_of(l.unit)));
  const bool one_group_each =
      std::equal(l.groups.begin(), l.groups.end(), l.parts.begin(), l.parts.end(),
                 [](const GroupLifetime& g, const std::string& part) { return g.name == part; });
  if (l.parts.size() > 1 && !one_group_each) {
    section.say(
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
        "making or fitting, not to wear.",
        figures);
  }
  return fmt::format(
      "Whether they wear out, or fail at any age alike, cannot be told from so few failures ({}).", figures);
}

void say_headline(Section& section, const Lifetime& l, const GroupLifetime& group) {
  const bool named = !group.name.empty();
  const std::string name = named ? fmt::format("{}: ", group.name) : "";
  if (!group.fit) {
    section.say(fmt::format("{}{} Weibull law. {}", name, named ? "no" : "No", group.no_fit_reason), true);
    return;
  }
  const WeibullFit& fit = *group.fit;
  const std::string limits_name = fmt::format("{} limits", confidence_text(l.confidence));
  section.say(fmt::format("{}{} of these pieces fail by {} ({} {}), one in ten by {}.", name,
                          named ? "half" : "Half", ages(l, fit.median.value), limits_name,
                          life_limits_text(fit.median.profile_low, fit.median.profile_high),
                          life_text(fit.b10.value)),
              true);
  section.say(wear_sentence(fit, limits_name));
}

void limit_paragraph(Section& section, const Lifetime& l, const OneSidedLimit& limit) {
  section.say(fmt::format(
      "If they wear with shape {} (assumed, not found here), then with {} confidence half of them reach {} "
      "or more, and nine in ten reach {}; the scale is at least {}.",
      number_text(limit.assumed_shape), confidence_text(limit.confidence), ages(l, limit.median_at_least),
      life_text(limit.b10_at_least), life_text(limit.scale_at_least)));
}

Section counted_section(const Lifetime& l) {
  Section section{"What was counted (pieces)"};
  Table table;
  table.name = "counted";
  if (grouped(l)) table.columns.push_back({"group", false});
  for (const char* heading : {"failure seen", "failed between looks", "failed before the first look",
                              "still working", "came under watch later"})
    table.columns.push_back({heading});
  table.columns.push_back({fmt::format("watched ({})", name_of(l.unit))});
  const auto add = [&](const GroupLifetime& group, const std::string& name) {
    std::vector<std::string> cells;
    if (grouped(l)) cells.push_back(name);
    for (const double pieces :
         {group.failed_exact, group.failed_between, group.failed_before, group.working, group.truncated})
      cells.push_back(number_text(pieces));
    cells.push_back(life_text(group.total_time));
    table.add(cells);
  };
  for (const GroupLifetime& group : l.groups) add(group, group.name);
  if (l.all) add(*l.all, "all");
  section.add(std::move(table));
  if (std::ranges::any_of(l.groups, [](const GroupLifetime& g) { return g.truncated > 0; })) {
    section.say(
        "Pieces that came under watch later are counted in one of the other columns too. What failed before "
        "it could be watched is in no record, and the estimates allow for that.");
  }
  return section;
}

void add_estimates(Section& section, const Lifetime& l, const WeibullFit& fit, const std::string& group) {
  const std::string limits = confidence_text(l.confidence) + " limits: ";
  Table table{.columns = {{fmt::format("Weibull law ({})", name_of(l.unit)), false},
                          {"estimate"},
                          {"standard error"},
                          {limits + "profile likelihood", false},
                          {limits + "normal approximation", false}},
              .name = "law " + group};
  const auto add = [&](const std::string& name, const LifeEstimate& e, std::string (*text)(double),
                       std::string (*limits_text)(double, double)) {
    table.add({name, text(e.value), e.error ? text(*e.error) : "-",
               limits_text(e.profile_low, e.profile_high), limits_text(e.normal_low, e.normal_high)});
  };
  add("shape", fit.shape, life_text, life_limits_text);
  add("scale", fit.scale, life_text, life_limits_text);
  add("median life", fit.median, life_text, life_limits_text);
  add("B10 life", fit.b10, life_text, life_limits_text);
  for (const TimedShare& share : fit.at_times)
    add(fmt::format("working at {}", number_text(share.time)), share.working, percent_text,
        share_limits_text);
  section.add(std::move(table));
  section.say("By the scale 63.2 % have failed, by the median life half, by the B10 life one in ten.");
  section.say(fmt::format(
      "Log-likelihood {}. Of (ln scale, ln shape): variances {:.5g} and {:.5g}, covariance {:.5g}.",
      decimals_text(fit.log_likelihood, 4), fit.var_log_scale, fit.var_log_shape,
      fit.cov_log_scale_log_shape));
}

void test_paragraph(Section& section, const FitTest& test) {
  const std::string verdict = test.chance < poor_fit ? "the law describes this record poorly. Look where the "
                                                       "plot bends: two causes of failure may be mixed in it"
                                                     : "nothing in this record speaks against the law";
  section.say(
      fmt::format("Does a Weibull law fit? {}: statistic {}, chance {} of one as large if it does: {}.",
                  test.method, number_text(test.statistic), chance_text(test.chance), verdict));
}

void add_curve(Section& section, const Lifetime& l, const SurvivalCurve& curve, const std::string& group) {
  Table table{.columns = {{fmt::format("age ({})", name_of(l.unit))}}, .name = "curve " + group};
  if (!curve.by_intervals) table.columns.insert(table.columns.end(), {{"pieces watched"}, {"failed"}});
  table.columns.push_back({"still working"});
  if (!curve.by_intervals)
    table.columns.insert(table.columns.end(),
                         {{"standard error"}, {confidence_text(l.confidence) + " limits"}});
  table.most_shown = most_step_rows;
  for (const SurvivalStep& step : curve.steps) {
    std::vector<std::string> cells = {number_text(step.time)};
    if (!curve.by_intervals) cells.insert(cells.end(), {number_text(step.at_risk), number_text(step.failed)});
    cells.push_back(percent_text(step.working));
    if (!curve.by_intervals)
      cells.insert(cells.end(), {percent_text(step.error), share_limits_text(step.low, step.high)});
    table.add(cells);
  }
  section.add(std::move(table));
  section.say(
      curve.by_intervals
          ? "Without any law: Turnbull's estimate from intervals; it has no simple limits."
          : "Without any law: Kaplan and Meier's product limit, Greenwood's standard errors and limits.");
  if (curve.steps.size() > most_step_rows) {
    section.say(fmt::format("{} of {} steps; --format csv has all.", most_step_rows, curve.steps.size()));
  }
}

// One group after another, and all as one.
template <class Add>
Section by_group(const Lifetime& l, const std::string& heading, const Add& add) {
  Section section{heading};
  const auto one = [&](const GroupLifetime& group, const std::string& name) {
    Section part{name};
    add(part, group);
    if (part.blocks.empty()) return;
    if (!name.empty()) section.say(name, true);
    section.blocks.insert(section.blocks.end(), part.blocks.begin(), part.blocks.end());
  };
  for (const GroupLifetime& group : l.groups) one(group, group.name.empty() ? "" : "Group: " + group.name);
  if (l.all) one(*l.all, "All groups as one");
  return section;
}

Section law_section(const Lifetime& l) {
  return by_group(l, "The Weibull law", [&](Section& part, const GroupLifetime& group) {
    const bool all = l.all && &group == &*l.all;
    if (group.fit) add_estimates(part, l, *group.fit, all ? "all" : group.name);
    if (!group.fit && all) part.say(group.no_fit_reason);
    if (group.limit) limit_paragraph(part, l, *group.limit);
    if (group.test) test_paragraph(part, *group.test);
  });
}

Section plot_section(const Lifetime& l) {
  Section section =
      by_group(l, "The share still working, by age",
               [&](Section& part, const GroupLifetime& group) { part.add(survival_chart(l, group)); });
  section.add(weibull_paper(l));
  return section;
}

Section curve_section(const Lifetime& l) {
  return by_group(l, "Step by step", [&](Section& part, const GroupLifetime& group) {
    if (!group.curve.steps.empty())
      add_curve(part, l, group.curve, l.all && &group == &*l.all ? "all" : group.name);
  });
}

// What the chance says that a group would be spared so if it were no better.
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

void failure_free_paragraphs(Section& section, const Lifetime& l, const GroupComparison& c) {
  const GroupLifetime& unfailed = l.groups.at(c.failure_free->group);
  const std::string& other = l.groups.at(1 - c.failure_free->group).name;
  const double pieces = pieces_of(unfailed);
  section.say(fmt::format("{} {}",
                          pieces == 1 ? fmt::format("The one '{}' piece has not failed.", unfailed.name)
                                      : fmt::format("None of the {} '{}' pieces has failed.",
                                                    number_text(pieces), unfailed.name),
                          limit_on_ratio(l, c.failure_free->median_ratio_at_least, unfailed.name, other)),
              true);
  section.say(fmt::format("If both lasted alike, all failures would have fallen on '{}' with chance {}: {}.",
                          other, chance_text(c.chance), better_words(unfailed.name, c.chance)));
  section.say(
      fmt::format("Likelihood ratio against one law for both: statistic {}, chance exp(-statistic/2), which "
                  "is exact for a known shape. Without failures in '{}' its best law is an endless life at "
                  "any shape: no estimate and no upper limit of the ratio exist.",
                  number_text(c.statistic), unfailed.name));
}

// What the chance of so large a difference between like groups says.
std::string difference_words(double chance) {
  if (chance < proven) return "they differ";
  if (chance < probable) return "they probably differ";
  if (chance < worth_a_look) return "a hint and no more: note further failures";
  return "no difference is shown, which does not show that there is none";
}

void two_groups(Section& section, const Lifetime& l, const LifeEstimate& ratio) {
  const std::string first = l.groups[0].name;
  const std::string second = l.groups[1].name;
  const bool longer = ratio.value >= 1;
  section.say(fmt::format("Does '{}' last longer than '{}'? Its median life is {} times as long ({} limits "
                          "{}, normal approximation).",
                          longer ? second : first, longer ? first : second,
                          life_text(longer ? ratio.value : 1 / ratio.value), confidence_text(l.confidence),
                          longer ? life_limits_text(ratio.normal_low, ratio.normal_high)
                                 : life_limits_text(is_limit(ratio.normal_high) ? 1 / ratio.normal_high : 0,
                                                    is_limit(ratio.normal_low) ? 1 / ratio.normal_low : 0)),
              true);
}

Section groups_section(const Lifetime& l) {
  Section section{"Are the groups alike?"};
  if (!l.comparison) {
    if (!l.no_comparison_reason.empty()) section.say(l.no_comparison_reason);
    return section;
  }
  const GroupComparison& c = *l.comparison;
  if (c.failure_free) {
    failure_free_paragraphs(section, l, c);
    return section;
  }
  if (c.median_ratio) two_groups(section, l, *c.median_ratio);
  section.say(fmt::format(
      "If all lasted alike, chance alone would make the lives differ as much as here with chance {}: {}.",
      chance_text(c.common_shape_chance), difference_words(c.common_shape_chance)));
  const bool shapes_only = c.chance < probable && c.common_shape_chance >= probable;
  if (shapes_only) {
    section.say(
        fmt::format("Yet they wear differently: with a shape for each group the chance is {}. One may be "
                    "better when young and worse when old: compare their plots.",
                    chance_text(c.chance)));
  }
  section.say(
      fmt::format("Likelihood ratio against one law for all: with a common shape, statistic {}, {}, chance "
                  "{}; with a shape for each group, statistic {}, {}, chance {}.",
                  number_text(c.common_shape_statistic),
                  count_text(c.common_shape_degrees, "degree of freedom", "degrees of freedom"),
                  chance_text(c.common_shape_chance), number_text(c.statistic),
                  count_text(c.degrees, "degree of freedom", "degrees of freedom"), chance_text(c.chance)));
  return section;
}

Section record_of(const Lifetime& l) {
  Section section{"The record"};
  say_record(section, l);
  return section;
}

constexpr SectionOf<Lifetime> lifetime_table[] = {{"record", record_of},        {"groups", groups_section},
                                                  {"counted", counted_section}, {"law", law_section},
                                                  {"plot", plot_section},       {"curve", curve_section}};

std::vector<Section> first_screen_of(const Lifetime& l) {
  Section record;
  say_record(record, l);
  Section picture;
  if (l.groups.size() == 1) {
    const GroupLifetime& group = l.groups.front();
    if (group.limit) limit_paragraph(record, l, *group.limit);
    if (group.test) test_paragraph(record, *group.test);
    picture.add(survival_chart(l, group));
    if (!picture.empty()) picture.heading = "The share still working, by age";
    return {record, picture};
  }
  return {record, groups_section(l), counted_section(l)};
}

}  // namespace

const std::vector<std::string>& lifetime_sections() { return section_names<lifetime_table>(); }

std::string lifetime_page(const Lifetime& l, const PageStyle& style) {
  Document page = answer_document("How long they last: " + what_lasts(l));
  Section opening;
  for (const GroupLifetime& group : l.groups) say_headline(opening, l, group);
  page.opening = opening.blocks;
  page.first_screen = first_screen_of(l);
  page.sections = sections_of(l, lifetime_table);
  page.report = {{"How they age", {"plot", "groups"}},
                 {"How sure that is", {"law"}},
                 {"What it was worked out from", {"record", "counted", "curve"}}};
  page.closing.push_back({fmt::format("mendworth {}.", version())});
  return page_of(std::move(page), style);
}

}  // namespace mendworth
