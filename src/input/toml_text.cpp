#include "input/toml_text.hpp"

#include <algorithm>
#include <charconv>
#include <stdexcept>

#include <fmt/format.h>

#include "input/document.hpp"

namespace mendworth::input {

namespace {

std::pair<std::string_view, std::string_view> first_step(std::string_view key) {
  const std::string_view step = key.substr(0, key.find('.'));
  key.remove_prefix(std::min(key.size(), step.size() + 1));
  return {step, key};
}

std::pair<std::string, std::string> last_step(std::string_view key) {
  const std::size_t dot = key.rfind('.');
  if (dot == std::string_view::npos) return {"", std::string(key)};
  return {std::string(key.substr(0, dot)), std::string(key.substr(dot + 1))};
}

/// From 0; absent if there is no such item.
std::optional<std::size_t> item_index(const TextNode& list, std::string_view step) {
  std::size_t number = 0;
  const auto [end, error] = std::from_chars(step.data(), step.data() + step.size(), number);
  const bool whole = error == std::errc{} && end == step.data() + step.size();
  if (!whole || number < 1 || number > list.items.size()) return std::nullopt;
  return number - 1;
}

bool is_bare_key(std::string_view key) {
  return !key.empty() && std::ranges::all_of(key, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
  });
}

std::string written_key(std::string_view key) {
  return is_bare_key(key) ? std::string(key) : toml_quoted(key);
}

bool lies_in(std::string_view path, std::string_view head) {
  return path.starts_with(head) && (path.size() == head.size() || path[head.size()] == '.');
}

}  // namespace

const TextNode* TextNode::find(std::string_view key) const noexcept {
  for (const auto& [name, node] : entries) {
    if (name == key) return &node;
  }
  return nullptr;
}

/// Walks over a text that is known to be TOML, so nothing is checked on the way.
class TomlText::Scanner {
 public:
  Scanner(const std::string& text, std::vector<Block>& blocks) : text_(text), blocks_(blocks) {}

  TextNode scan() {
    TextNode root;
    root.next_line = 0;
    TextNode* table = &root;
    std::string path;
    blocks_.push_back({"", 0, 0});
    while (true) {
      skip_blank(true);
      if (at_ >= text_.size()) break;
      const std::size_t begin = line_begin(at_);
      if (text_[at_] == '[') {
        const bool item = text_.compare(at_, 2, "[[") == 0;
        at_ += item ? 2 : 1;
        const std::vector<std::string> steps = key();
        at_ = text_.find(']', at_) + (item ? 2 : 1);
        to_line_end();
        path.clear();
        table = opened(root, steps, item, path);
        table->begin = begin;
        blocks_.push_back({path, begin, at_});
      } else {
        add_entry(*table, true);
        to_line_end();
        blocks_.back().end = at_;
      }
      table->next_line = table->end = at_;
    }
    return root;
  }

 private:
  [[nodiscard]] std::size_t line_begin(std::size_t at) const {
    const std::size_t end = at == 0 ? std::string::npos : text_.rfind('\n', at - 1);
    return end == std::string::npos ? 0 : end + 1;
  }

  /// Behind blanks and, with `lines`, line ends and comments.
  void skip_blank(bool lines) {
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == ' ' || c == '\t' || (lines && (c == '\n' || c == '\r'))) {
        ++at_;
      } else if (lines && c == '#') {
        at_ = std::min(text_.find('\n', at_), text_.size());
      } else {
        return;
      }
    }
  }

  void to_line_end() {
    const std::size_t end = text_.find('\n', at_);
    at_ = end == std::string::npos ? text_.size() : end + 1;
  }

  std::vector<std::string> key() {
    std::vector<std::string> steps;
    while (true) {
      skip_blank(false);
      const std::size_t begin = at_;
      if (text_[at_] == '"' || text_[at_] == '\'') {
        skip_text();
        // What escapes stand for matters to no key of ours.
        steps.push_back(text_.substr(begin + 1, at_ - begin - 2));
      } else {
        at_ = text_.find_first_of(" \t.=]", at_);
        steps.push_back(text_.substr(begin, at_ - begin));
      }
      skip_blank(false);
      if (text_[at_] != '.') return steps;
      ++at_;
    }
  }

  void skip_text() {
    const char quote = text_[at_];
    const std::string three(3, quote);
    const bool many_lines = text_.compare(at_, 3, three) == 0;
    at_ += many_lines ? 3 : 1;
    while (at_ < text_.size()) {
      if (text_[at_] == '\\' && quote == '"') {
        at_ += 2;
        continue;
      }
      const bool ends = text_[at_] == quote && (!many_lines || text_.compare(at_, 3, three) == 0);
      ++at_;
      if (!ends) continue;
      // After the other two of three up to two quotes may end the text itself.
      while (many_lines && at_ < text_.size() && text_[at_] == quote) ++at_;
      return;
    }
  }

  /// "key = value" at this place, into the table; its place.
  void add_entry(TextNode& table, bool own_line) {
    std::vector<std::string> steps = key();
    ++at_;  // =
    skip_blank(false);
    TextNode value = read_value();
    TextNode* owner = &table;
    for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
      owner = &child(*owner, steps[i]);
      if (!own_line) continue;
      owner->dotted.clear();
      for (std::size_t k = 0; k <= i; ++k) owner->dotted += written_key(steps[k]) + '.';
      owner->next_line = std::min(text_.find('\n', at_), text_.size() - 1) + 1;
    }
    owner->entries.emplace_back(steps.back(), std::move(value));
  }

  TextNode read_value() {
    TextNode node;
    node.begin = at_;
    node.kind = TextNode::Kind::value;
    const char first = text_[at_];
    if (first == '"' || first == '\'') {
      skip_text();
    } else if (first == '[' || first == '{') {
      const bool list = first == '[';
      node.kind = list ? TextNode::Kind::inline_list : TextNode::Kind::inline_table;
      ++at_;
      while (true) {
        skip_blank(true);
        if (text_[at_] == (list ? ']' : '}')) break;
        if (text_[at_] == ',') {
          ++at_;
        } else if (list) {
          node.items.push_back(read_value());
        } else {
          add_entry(node, false);
        }
      }
      ++at_;
    } else {
      at_ = std::min(text_.find_first_of(",]}#\r\n", at_), text_.size());
      while (text_[at_ - 1] == ' ' || text_[at_ - 1] == '\t') --at_;
    }
    node.end = at_;
    return node;
  }

  static TextNode& child(TextNode& table, const std::string& key) {
    for (auto& [name, node] : table.entries) {
      if (name == key) return node;
    }
    return table.entries.emplace_back(key, TextNode{}).second;
  }

  /// The table of a header, made as it is needed; its path with numbers.
  static TextNode* opened(TextNode& root, const std::vector<std::string>& steps, bool item,
                          std::string& path) {
    TextNode* table = &root;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      const bool last = i + 1 == steps.size();
      table = &child(*table, steps[i]);
      path += (path.empty() ? "" : ".") + steps[i];
      if (last && item) {
        table->kind = TextNode::Kind::list;
        table->items.emplace_back();
      }
      if (table->kind != TextNode::Kind::list) continue;
      path += '.' + std::to_string(table->items.size());
      table = &table->items.back();
    }
    return table;
  }

  const std::string& text_;
  std::vector<Block>& blocks_;
  std::size_t at_ = 0;
};

TomlText::TomlText(std::string text, const std::string& source_name) : text_(std::move(text)) {
  (void)parse_document(text_, source_name);
  root_ = Scanner(text_, blocks_).scan();
}

const TextNode* TomlText::find(std::string_view key) const {
  const TextNode* node = &root_;
  while (node != nullptr && !key.empty()) {
    const auto [step, rest] = first_step(key);
    key = rest;
    if (node->is_list()) {
      const auto index = item_index(*node, step);
      node = index ? &node->items[*index] : nullptr;
    } else {
      node = node->find(step);
    }
  }
  return node;
}

std::string_view TomlText::written(const TextNode& node) const {
  if (!node.is_inline()) return {};
  return std::string_view(text_).substr(node.begin, node.end - node.begin);
}

std::string TomlText::replaced(std::size_t begin, std::size_t end, std::string_view by) const {
  std::string out = text_.substr(0, begin);
  out += by;
  return out + text_.substr(end);
}

std::string TomlText::with_line(std::size_t at, const std::string& line) const {
  const bool joined = at > 0 && text_[at - 1] != '\n';
  return replaced(at, at, (joined ? "\n" : "") + line + '\n');
}

std::size_t TomlText::end_of(const std::string& path) const {
  std::size_t end = 0;
  for (const Block& block : blocks_) {
    if (path.empty() || lies_in(block.path, path)) end = std::max(end, block.end);
  }
  return end;
}

std::string TomlText::with_value(std::string_view key, std::string_view value) const {
  if (const TextNode* there = find(key)) {
    if (!there->is_inline()) throw std::invalid_argument(fmt::format("'{}' is a section of its own", key));
    return replaced(there->begin, there->end, value);
  }
  const auto [table_key, name] = last_step(key);
  const std::string line = fmt::format("{} = {}", written_key(name), value);
  const TextNode* table = find(table_key);
  if (table == nullptr) {
    if (table_key.find_first_of("0123456789") != std::string::npos)
      throw std::invalid_argument(fmt::format("there is no '{}' to change", table_key));
    return with_line(text_.size(), fmt::format("\n[{}]\n{}", table_key, line));
  }
  if (table->kind == TextNode::Kind::inline_table) {
    const bool empty = table->entries.empty();
    const std::size_t behind = empty ? table->begin + 1 : table->entries.back().second.end;
    return replaced(behind, behind, (empty ? " " : ", ") + line + (empty ? " " : ""));
  }
  if (table->kind != TextNode::Kind::table)
    throw std::invalid_argument(fmt::format("'{}' holds no '{}'", table_key, name));
  if (!table->next_line) return with_line(text_.size(), fmt::format("\n[{}]\n{}", table_key, line));
  return with_line(*table->next_line, table->dotted + line);
}

std::string TomlText::without(std::string_view key) const {
  const TextNode* there = find(key);
  if (there == nullptr) return text_;
  const auto [owner_key, name] = last_step(key);
  const TextNode* owner = find(owner_key);
  if (!there->is_inline()) {
    std::string out = text_;
    for (auto block = blocks_.rbegin(); block != blocks_.rend(); ++block) {
      if (!lies_in(block->path, key)) continue;
      const bool behind_blank = block->begin >= 2 && text_.compare(block->begin - 2, 2, "\n\n") == 0;
      const std::size_t begin = block->begin - (behind_blank ? 1 : 0);
      out.erase(begin, block->end - begin);
    }
    return out;
  }
  if (owner->kind == TextNode::Kind::table) {
    const std::size_t line = text_.rfind('\n', there->begin);
    const std::size_t begin = line == std::string::npos ? 0 : line + 1;
    const std::size_t end = text_.find('\n', there->end);
    return replaced(begin, end == std::string::npos ? text_.size() : end + 1, "");
  }
  // Within braces or brackets: with the comma before it, or else the one behind.
  std::size_t begin = there->begin;
  std::size_t end = there->end;
  const bool in_list = owner->kind == TextNode::Kind::inline_list;
  if (!in_list) begin = text_.find_first_not_of(" \t", text_.find_last_of(",{", begin) + 1);
  const std::size_t before = text_.find_last_not_of(" \t\r\n", begin - 1);
  const std::size_t behind = text_.find_first_not_of(" \t\r\n", end);
  if (text_[before] == ',') {
    begin = before;
  } else if (text_[behind] == ',') {
    end = std::min(text_.find_first_not_of(" \t", behind + 1), text_.size());
  }
  return replaced(begin, end, "");
}

std::string TomlText::with_item(std::string_view list_key, const Lines& lines, bool in_line) const {
  const TextNode* list = find(list_key);
  std::string braces, block;
  for (const auto& [key, value] : lines) {
    braces += fmt::format("{}{} = {}", braces.empty() ? "" : ", ", written_key(key), value);
    block += fmt::format("{} = {}\n", written_key(key), value);
  }
  braces = "{ " + braces + " }";
  if (list != nullptr && list->kind == TextNode::Kind::inline_list) {
    const bool empty = list->items.empty();
    const std::size_t behind = empty ? list->begin + 1 : list->items.back().end;
    return replaced(behind, behind, (empty ? "" : ", ") + braces);
  }
  if (list == nullptr && in_line) return with_value(list_key, '[' + braces + ']');
  if (list != nullptr && list->kind != TextNode::Kind::list)
    throw std::invalid_argument(fmt::format("'{}' is no list", list_key));
  std::string name;  // of the header: without numbers
  for (std::string_view rest = list_key; !rest.empty();) {
    const auto [step, after] = first_step(rest);
    if (step.find_first_not_of("0123456789") != std::string_view::npos)
      name += (name.empty() ? "" : ".") + std::string(step);
    rest = after;
  }
  const std::string owner = last_step(list_key).first;
  if (find(owner) == nullptr) throw std::invalid_argument(fmt::format("there is no '{}'", owner));
  // Behind the last of them; else, as an item belongs to the item above it, within its owner.
  const std::size_t at = list != nullptr ? end_of(std::string(list_key)) : end_of(owner);
  if (!block.empty()) block.pop_back();
  return with_line(at, fmt::format("\n[[{}]]\n{}", name, block));
}

}  // namespace mendworth::input
