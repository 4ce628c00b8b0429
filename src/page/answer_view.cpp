#include "page/answer_view.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <variant>

#include "page/field_text.hpp"
#include "render/answer_words.hpp"
#include "render/customer_sheet.hpp"
#include "render/number_text.hpp"
#include "render/shop_sheet.hpp"

namespace mendworth::page {

namespace {

using input::TextNode;
using input::TomlText;

constexpr std::size_t most_differences = 20;

/// What each entry says, by its key.
void gather(const TomlText& text, const TextNode& node, const std::string& key,
            std::map<std::string, std::string>& found) {
  const auto below = [&](const std::string& step) { return key.empty() ? step : key + '.' + step; };
  if (node.is_list() && !node.items.empty() && node.items.front().kind != TextNode::Kind::value) {
    for (std::size_t i = 0; i < node.items.size(); ++i)
      gather(text, node.items[i], below(std::to_string(i + 1)), found);
  } else if (node.kind == TextNode::Kind::table) {
    for (const auto& [name, entry] : node.entries) gather(text, entry, below(name), found);
  } else if (node.is_inline()) {
    const Input* input = find_input(case_inputs(), key);
    const std::string written(text.written(node));
    found[key] = input == nullptr ? written : shown_text(*input, written);
  }
}

std::map<std::string, std::string> entries_of(const std::string& case_text) {
  const TomlText text(case_text);
  std::map<std::string, std::string> found;
  gather(text, text.root(), "", found);
  return found;
}

std::string at_or(const std::map<std::string, std::string>& entries, const std::string& key) {
  const auto found = entries.find(key);
  return found == entries.end() ? "not stated" : found->second;
}

/// An entry in words, where it is a number that was reckoned with.
std::string entry_words(const Weighing& w, const std::string& key) {
  const auto input = std::ranges::find(w.inputs, key, &Weighing::InputRow::key);
  return input == w.inputs.end() ? key : input->label;
}

Table difference_table(const std::string& before, const std::string& now, const Weighing& w) {
  Table table{.caption = "What was changed",
              .columns = {{"entry", false}, {"pinned", false}, {"now", false}}};
  const auto old_entries = entries_of(before), new_entries = entries_of(now);
  std::map<std::string, bool> keys;
  for (const auto& [key, ignored] : old_entries) keys[key] = true;
  for (const auto& [key, ignored] : new_entries) keys[key] = true;
  for (const auto& [key, ignored] : keys) {
    const std::string a = at_or(old_entries, key), b = at_or(new_entries, key);
    if (a != b && table.rows.size() < most_differences) table.add({entry_words(w, key), a, b});
  }
  return table;
}

/// Figures of one answer, as the table below has its rows.
std::vector<std::string> figures(const Weighing& w) {
  const Sums sums(w.currency, w.minor_digits);
  const OptionResult* best = find_option(w, w.verdict.best);
  const auto or_none = [](bool there, const auto& text) { return there ? text() : std::string("-"); };
  return {
      w.verdict.best,
      or_none(best != nullptr, [&] { return sums.estimate(best->present_cost, best->present_cost_error); }),
      or_none(best != nullptr, [&] { return sums.amount(best->cash_now); }),
      or_none(w.verdict.saving.has_value(),
              [&] { return sums.estimate(*w.verdict.saving, w.verdict.saving_error); }),
      or_none(w.verdict.saving.has_value(), [&] { return percent(w.verdict.repair_cheaper_share); }),
      or_none(w.order.has_value(), [&] { return sums.amount(w.order->landed); }),
      or_none(w.order.has_value(), [&] { return days_text(w.order->wait_days); })};
}

}  // namespace

std::string lead_html(const Weighing& w) {
  const Document answer = weighing_document(w);
  return html_fragment(answer.opening) + html_fragment(answer.first_screen.front());
}

std::string sections_html(const Weighing& w) {
  std::string out;
  Document answer = weighing_document(w);
  for (Section& section : answer.sections) {
    if (section.empty()) continue;
    const bool has_chart = std::ranges::any_of(
        section.blocks, [](const auto& block) { return std::holds_alternative<Chart>(block); });
    const bool open = has_chart || section.name == "break-even" || section.name == "sensitivity";
    out += fmt::format("<details id=\"d-{}\"{}>\n<summary>{}</summary>\n", html_escaped(section.name),
                       open ? " open" : "", html_escaped(section.heading));
    section.heading.clear();
    out += html_fragment(section) + "</details>\n";
  }
  return out + html_fragment({answer.closing.begin(), answer.closing.end()});
}

std::string verdict_words(const Weighing& w) {
  std::string words;
  for (const DocumentBlock& block : verdict_opening(w)) {
    const auto* paragraph = std::get_if<Paragraph>(&block);
    const auto* notice = std::get_if<Notice>(&block);
    if (paragraph == nullptr && notice == nullptr) continue;
    words += (words.empty() ? "" : " ") + (paragraph != nullptr ? paragraph->text : notice->text);
  }
  return one_line(words);
}

std::string comparison_html(const Pinned& pinned, const Weighing& now, const std::string& text) {
  Table table{.columns = {{"figure", false}, {"pinned", false}, {"now", false}}, .compares_columns = true};
  const auto before = figures(pinned.weighing), after = figures(now);
  const char* const names[] = {"Best course",       "Its present cost",   "Money now",     "Saving by repair",
                               "Repair cheaper in", "Order, at the door", "Wait for parts"};
  for (std::size_t i = 0; i < std::size(names); ++i) table.add({names[i], before[i], after[i]});
  Section section{"Pinned and now"};
  section.add(std::move(table));
  section.add(difference_table(pinned.text, text, now));
  return html_fragment(section);
}

std::string quote_html(const QuoteResult& result, bool shop_side) {
  if (!result.quote) {
    Section section{"No quote"};
    for (const std::string& sentence : result.refusal->sentences) section.say(sentence);
    return html_fragment(section);
  }
  std::string out;
  if (shop_side && result.quote->shop) {
    for (const std::string& remark : result.quote->remarks) out += html_fragment({Notice{remark}});
    return out + html_fragment(shop_sheet(*result.quote->shop));
  }
  return html_fragment(customer_sheet(result.quote->customer));
}

}  // namespace mendworth::page
