#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "render/answer_words.hpp"

namespace mendworth {

Section hazards_section(const std::vector<Weighing::Caution>& cautions) {
  Section section{"Hazards"};
  std::vector<std::string> items;
  for (const Weighing::Caution& caution : cautions) {
    std::string text = caution.title + (caution.licensed_only ? " (for licensed people only):" : ":");
    for (const std::string& sentence : caution.sentences) text += " " + sentence;
    items.push_back(text);
  }
  section.list(std::move(items));
  return section;
}

std::string hazards_line(const std::vector<Weighing::Caution>& cautions) {
  if (cautions.empty()) return "Hazards: the case names none.";
  std::string text;
  for (const Weighing::Caution& caution : cautions)
    text +=
        (text.empty() ? "" : "; ") + caution.title + (caution.licensed_only ? " (licensed people only)" : "");
  return fmt::format("Hazards: {}.", text);
}

Section notes_section(const std::vector<std::string>& notes) {
  Section section{"Notes"};
  section.list(notes);
  return section;
}

// Many entries share a source: each source once, by its number.
Section assumed_section(const std::vector<Weighing::DefaultRow>& rows) {
  Section section{"Assumed: state it in the case if you know better"};
  Table table{.columns = {{"entry of the case", false, true}, {"taken as, from [source]", false}},
              .name = "assumed"};
  std::vector<std::string> sources;
  const auto add = [&](const Weighing::DefaultRow& row) {
    auto source = std::ranges::find(sources, row.source);
    if (source == sources.end()) source = sources.insert(sources.end(), row.source);
    table.add({row.key, fmt::format("{} [{}]", row.value, source - sources.begin() + 1)},
              row.decided ? Table::Role::best : Table::Role::plain, row.decided ? "!" : "");
  };
  for (const bool decided : {true, false}) {
    for (const Weighing::DefaultRow& row : rows) {
      if (row.decided == decided) add(row);
    }
  }
  const bool any_decided = table.has_marks();
  section.add(std::move(table));
  if (any_decided)
    section.say("! matters here: within its range the answer turns or moves by more than its margin.");
  for (std::size_t i = 0; i < sources.size(); ++i) section.say(fmt::format("[{}] {}", i + 1, sources[i]));
  return section;
}

}  // namespace mendworth
