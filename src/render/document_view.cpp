#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <type_traits>
#include <utility>

#include "render/document.hpp"
#include "render/number_text.hpp"

// Which of its sections and tables a document shows, and in which form.
namespace mendworth {

namespace {

constexpr const char* every_section = "all";
constexpr const char* first_screen = "answer";
constexpr std::ptrdiff_t screen_lines = 40;
constexpr int least_picture_rows = 8;

std::string names_in_a_row(const std::vector<std::string>& names) {
  return fmt::format("{}", fmt::join(names, ", "));
}

// A name for a table that has none of its own: the letters and digits of its caption.
std::string name_from(const std::string& caption) {
  std::string name;
  for (const char c : caption) {
    const bool kept = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    const bool capital = c >= 'A' && c <= 'Z';
    if (kept || capital) {
      name += capital ? static_cast<char>(c - 'A' + 'a') : c;
    } else if (!name.empty() && name.back() != '-') {
      name += '-';
    }
  }
  while (name.ends_with('-')) name.pop_back();
  return name.empty() ? "table" : name;
}

template <class Visit>
void for_each_table(std::vector<DocumentBlock>& blocks, const Visit& visit) {
  for (DocumentBlock& block : blocks) {
    if (auto* table = std::get_if<Table>(&block)) visit(*table, table->caption);
    if (auto* chart = std::get_if<Chart>(&block)) visit(*chart, chart->title);
  }
}

template <class Visit>
void for_each_table(Document& document, const Visit& visit) {
  for_each_table(document.opening, visit);
  for (Section& section : document.sections) {
    for_each_table(section.blocks, visit);
    for (Section& part : section.parts) for_each_table(part.blocks, visit);
  }
}

// Every table and chart gets a name that no other has.
void name_tables(Document& document) {
  std::set<std::string> names;
  const auto name = [&](auto& block, const std::string& caption) {
    const std::string wanted = name_from(block.name.empty() ? caption : block.name);
    block.name = wanted;
    for (int again = 2; !names.insert(block.name).second; ++again)
      block.name = fmt::format("{}-{}", wanted, again);
  };
  for_each_table(document, name);
  for (Section& section : document.first_screen) for_each_table(section.blocks, name);
}

// A long table among others keeps some of its rows, evenly, with the first and the last.
void shorten_tables(Document& document) {
  for_each_table(document, [](auto& block, const std::string&) {
    if constexpr (std::is_same_v<std::decay_t<decltype(block)>, Table>) {
      const std::size_t count = block.rows.size(), most = block.most_shown;
      if (most < 2 || count <= most) return;
      for (std::size_t i = 0; i < most; ++i)
        std::swap(block.rows[i], block.rows[i * (count - 1) / (most - 1)]);
      block.rows.resize(most);
    }
  });
}

Document only_table(Document& document, const std::string& wanted) {
  Document only;
  only.name = only.title = document.title;
  only.answer = true;
  std::vector<std::string> names;
  const auto look = [&](const auto& block, const std::string&) {
    names.push_back(block.name);
    if (block.name != wanted) return;
    if constexpr (std::is_same_v<std::decay_t<decltype(block)>, Chart>) {
      only.opening.emplace_back(chart_numbers(block));
    } else {
      only.opening.emplace_back(block);
    }
  };
  for_each_table(document, look);
  if (only.opening.empty()) {
    throw UnknownName(
        names.empty() ? "this answer has no tables"
                      : fmt::format("this answer has no table '{}', only {}", wanted, names_in_a_row(names)));
  }
  return only;
}

// Says how to see more: which sections, or where their names stand.
std::string more_words(const Document& document, const std::vector<std::string>& names) {
  const std::string notes =
      document.notes == 0 ? "" : fmt::format(" ({})", count_text(document.notes, "note", "notes"));
  return fmt::format("More{}: --show all, or --show LIST{}", notes,
                     names.empty() ? " (see --help)." : " with names of: " + names_in_a_row(names) + ".");
}

void show_first_screen(Document& document) {
  std::vector<std::string> names;
  for (const Section& section : document.sections) {
    if (!section.empty()) names.push_back(section.name);
  }
  document.sections = document.first_screen;
  if (!names.empty()) document.closing.push_back({more_words(document, names)});
}

// What a first screen of too many lines gives up, until it is none: the names of the sections, which --help has; spare
// columns that make others narrow; the height of its picture; rows, the longest table first; what else is spare; empty
// lines; at last all rows but one.
class FirstScreen {
 public:
  FirstScreen(Document& document, const PageStyle& style) : document_(document), style_(style) {}

  void fit() {
    if (fits()) return;
    if (!document_.closing.empty()) document_.closing.back().text = more_words(document_, {});
    for_each<Table>([this](Table& table) { drop_columns(table); });
    for_each<Chart>([this](Chart& chart) {
      while (!fits() && chart.picture_rows > least_picture_rows) --chart.picture_rows;
    });
    drop_rows(0);
    if (!fits()) std::erase_if(document_.closing, [](const Paragraph& paragraph) { return paragraph.spare; });
    for (Section& section : document_.sections) {
      const auto is_spare = [](const DocumentBlock& block) {
        const auto* list = std::get_if<List>(&block);
        return list != nullptr && list->spare;
      };
      if (!fits()) std::erase_if(section.blocks, is_spare);
    }
    document_.close_together = !fits();
    drop_rows(1);
  }

 private:
  [[nodiscard]] std::ptrdiff_t lines() const {
    const std::string text = document_text(document_, style_);
    return std::ranges::count(text, '\n');
  }
  [[nodiscard]] bool fits() const { return lines() <= screen_lines; }

  template <class Block, class Visit>
  void for_each(const Visit& visit) {
    for (Section& section : document_.sections) {
      for (DocumentBlock& block : section.blocks) {
        if (auto* wanted = std::get_if<Block>(&block)) visit(*wanted);
      }
    }
  }

  void drop_columns(Table& table) {
    for (std::size_t i = table.columns.size(); i-- > 0;) {
      const std::ptrdiff_t before = lines();
      if (before <= screen_lines) return;
      if (!table.columns[i].spare) continue;
      const Table whole = table;
      const auto at = static_cast<std::ptrdiff_t>(i);
      table.columns.erase(table.columns.begin() + at);
      for (Table::Row& row : table.rows) row.cells.erase(row.cells.begin() + at);
      if (lines() >= before) table = whole;
    }
  }

  // Down to the fewest that a table needs, or to so many.
  void drop_rows(std::size_t least) {
    while (!fits()) {
      std::vector<Table::Row>* longest = nullptr;
      for_each<Table>([&](Table& table) {
        const bool spares_one = table.fewest > 0 && table.rows.size() > (least > 0 ? least : table.fewest);
        if (spares_one && (longest == nullptr || table.rows.size() > longest->size())) longest = &table.rows;
      });
      if (longest == nullptr) return;
      longest->pop_back();
    }
  }

  Document& document_;
  const PageStyle& style_;
};

// What the opening has said in strong words need not be said again further down.
void drop_repeated(Section& section, const std::vector<DocumentBlock>& opening) {
  std::erase_if(section.blocks, [&](const DocumentBlock& block) {
    const auto* said = std::get_if<Paragraph>(&block);
    return said != nullptr && said->strong && std::ranges::any_of(opening, [&](const DocumentBlock& other) {
             const auto* before = std::get_if<Paragraph>(&other);
             return before != nullptr && before->text == said->text;
           });
  });
}

// All sections, chapter by chapter: what somebody keeps, prints or sends.
void show_report(Document& document) {
  std::vector<Section> chapters;
  for (const Chapter& chapter : document.report) {
    Section section{chapter.heading};
    for (const std::string& name : chapter.sections) {
      for (Section& part : document.sections) {
        if (part.name != name) continue;
        drop_repeated(part, document.opening);
        if (!part.empty()) section.parts.push_back(std::move(part));
      }
    }
    if (!section.empty()) chapters.push_back(std::move(section));
  }
  document.sections = std::move(chapters);
}

void show_chosen(Document& document, const std::vector<std::string>& names) {
  std::vector<Section> chosen;
  bool with_opening = false;
  for (const std::string& name : names) {
    if (name == first_screen) {
      with_opening = true;
      chosen.insert(chosen.end(), document.first_screen.begin(), document.first_screen.end());
      continue;
    }
    const auto found = std::ranges::find(document.sections, name, &Section::name);
    if (found == document.sections.end()) {
      std::vector<std::string> known{every_section, first_screen};
      for (const Section& section : document.sections) known.push_back(section.name);
      throw UnknownName(fmt::format("there is no section '{}', only {}", name, names_in_a_row(known)));
    }
    chosen.push_back(*found);
    if (chosen.back().empty()) chosen.back().say(fmt::format("Nothing to say here ({}).", name));
  }
  if (!with_opening) document.opening.clear();
  document.sections = std::move(chosen);
}

}  // namespace

std::string page_of(Document document, const PageStyle& style) {
  name_tables(document);
  if (style.table) {
    document = only_table(document, *style.table);
  } else if (style.show.empty() && style.form == PageForm::html && !document.report.empty()) {
    show_report(document);
  } else if (style.show.empty() && !document.first_screen.empty() && style.form != PageForm::csv) {
    show_first_screen(document);
    FirstScreen(document, style).fit();
  } else if (!style.show.empty() && style.show != std::vector<std::string>{every_section}) {
    show_chosen(document, style.show);
  }
  if (style.form != PageForm::csv && !style.table) shorten_tables(document);
  switch (style.form) {
    case PageForm::text: return document_text(document, style);
    case PageForm::markdown: return document_markdown(document);
    case PageForm::html: return document_html(document);
    case PageForm::csv: break;
  }
  return document_csv(document, style.table.has_value());
}

}  // namespace mendworth
