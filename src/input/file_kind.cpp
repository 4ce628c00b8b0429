#include "input/file_kind.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <span>

#include <fmt/format.h>

#include "domain/inputs.hpp"
#include "input/csv_reading.hpp"
#include "input/drawer_columns.hpp"
#include "mendworth/diagnostic.hpp"

namespace mendworth::input {

namespace {

struct Looks {
  FileKind kind;
  const char* words;
  const char* use;                   ///< where such a file belongs
  std::set<std::string_view> marks;  ///< sections that no other kind has, or columns
  std::size_t needed;                ///< so many of them at least
};

/// The sections of a table of inputs that another one has not.
std::set<std::string_view> own_sections(std::span<const Input> table, std::span<const Input> other) {
  std::set<std::string_view> own;
  for (const Input& section : table) {
    if (find_input(other, section.key) == nullptr) own.insert(section.key);
  }
  return own;
}

std::span<const Looks> toml_kinds() {
  static const std::array<Looks, 3> kinds = {
      {{FileKind::case_file, "a case", "'mendworth weigh', 'buy', 'bulk' and 'quote' take a case",
        own_sections(case_inputs(), shop_inputs()), 1},
       {FileKind::shop, "a shop file", "a shop file goes to 'mendworth quote CASE --shop'",
        own_sections(shop_inputs(), case_inputs()), 2},
       {FileKind::rates,
        "a table of rates",
        "a table of rates lies in the folder of '--rates'",
        {"life", "operation", "termination", "skill", "device_kind", "hazard", "default", "default_names",
         "currency"},
        1}}};
  return kinds;
}

std::span<const Looks> csv_kinds() {
  static const std::array<Looks, 4> kinds = {
      {{FileKind::history,
        "a history",
        "a history goes to 'mendworth lifetime'",
        {"age_cycles", "age_hours", "age_years", "state", "worked_at", "first_seen"},
        2},
       {FileKind::quotation,
        "a quotation",
        "a quotation goes to 'mendworth bulk CASE --quotation'",
        {"candidate", "from", "each", "supplier", "currency", "least", "multiple", "lead_days"},
        3},
       {FileKind::drawer,
        "a drawer",
        "a drawer goes to 'mendworth drawer', or to '--drawer'",
        {"candidate", "pieces", "since"},
        2},
       {FileKind::past_use,
        "a record of past use",
        "a record of past use goes to 'mendworth bulk CASE --past-use'",
        {"date", "pieces"},
        2}}};
  return kinds;
}

const Looks* looks_of(FileKind kind) {
  for (const auto kinds : {toml_kinds(), csv_kinds()}) {
    for (const Looks& looks : kinds) {
      if (looks.kind == kind) return &looks;
    }
  }
  return nullptr;
}

std::string_view first_word(std::string_view line) {
  line.remove_prefix(std::min(line.find_first_not_of("[ \t\""), line.size()));
  return line.substr(0, line.find_first_of(".]= \t\""));
}

/// The heads of the sections; keys count too as long as there is none.
std::set<std::string_view> toml_words(std::string_view text) {
  std::set<std::string_view> words;
  bool headless = true;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view line = trimmed(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
    const bool head = !line.empty() && line.front() == '[';
    if (head) headless = false;
    if (head || (headless && line.find('=') != std::string_view::npos)) words.insert(first_word(line));
  }
  return words;
}

/// The names in the first row; none if it does not look like one.
std::set<std::string> csv_words(std::string_view text) {
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
  text.remove_prefix(std::min(text.find_first_not_of(" \t\r\n"), text.size()));
  std::string_view row = text.substr(0, text.find_first_of("\r\n"));
  constexpr std::string_view of_toml_or_json = "[#{";
  if (row.empty() || of_toml_or_json.find(row.front()) != std::string_view::npos) return {};
  if (row.find('=') != std::string_view::npos) return {};
  std::set<std::string> words;
  while (!row.empty()) {
    const std::size_t end = std::min(row.find_first_of(",;\t"), row.size());
    std::string_view word = trimmed(row.substr(0, end));
    if (word.size() > 1 && word.front() == '"' && word.back() == '"') word = word.substr(1, word.size() - 2);
    words.insert(lower_case(word));
    row.remove_prefix(std::min(end + 1, row.size()));
  }
  return words;
}

template <class Words>
std::size_t matches(const Looks& looks, const Words& words) {
  return static_cast<std::size_t>(std::ranges::count_if(
      words, [&](const auto& word) { return looks.marks.count(std::string_view(word)) > 0; }));
}

/// The kind with the most words; unknown if no kind has as many as it needs.
template <class Words>
FileKind best_match(std::span<const Looks> kinds, const Words& words) {
  FileKind best = FileKind::unknown;
  std::size_t most = 0;
  for (const Looks& looks : kinds) {
    const std::size_t count = matches(looks, words);
    if (count < looks.needed || count <= most) continue;
    most = count;
    best = looks.kind;
  }
  return best;
}

}  // namespace

const char* name_of(FileKind kind) noexcept {
  switch (kind) {
    case FileKind::case_file: return "case";
    case FileKind::shop: return "shop";
    case FileKind::rates: return "rates";
    case FileKind::drawer: return "drawer";
    case FileKind::history: return "history";
    case FileKind::quotation: return "quotation";
    case FileKind::past_use: return "past use";
    case FileKind::unknown: break;
  }
  return "unknown";
}

const char* words_for(FileKind kind) noexcept {
  const Looks* looks = looks_of(kind);
  return looks != nullptr ? looks->words : "a file of no known kind";
}

FileKind kind_of(std::string_view text) {
  const FileKind csv = best_match(csv_kinds(), csv_words(text));
  return csv != FileKind::unknown ? csv : best_match(toml_kinds(), toml_words(text));
}

void require_kind(std::string_view text, const std::string& source_name, FileKind wanted) {
  const FileKind found = kind_of(text);
  const Looks& looks = *looks_of(wanted);
  const bool is_toml =
      std::ranges::any_of(toml_kinds(), [&](const Looks& kind) { return kind.kind == wanted; });
  if (is_toml && found == FileKind::unknown && csv_words(text).size() > 1) {
    throw InputError(
        {{source_name, 0, 0, "", fmt::format("this is a table of columns, {} is wanted here", looks.words),
          "a table of devices goes to 'mendworth rows CASE TABLE'"}});
  }
  if (found == FileKind::unknown || found == wanted) return;
  // With a part of the kind that is wanted it may be meant to be that: then its problems are named one by one.
  if (is_toml && matches(looks, toml_words(text)) > 0) return;
  if (!is_toml && matches(looks, csv_words(text)) >= looks.needed) return;
  throw InputError({{source_name, 0, 0, "",
                     fmt::format("this is {}, {} is wanted here", words_for(found), words_for(wanted)),
                     looks_of(found)->use}});
}

}  // namespace mendworth::input
