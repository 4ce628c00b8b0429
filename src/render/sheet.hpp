#pragma once

#include "render/document.hpp"

/// A letter's names for the parts of a document.
namespace mendworth {

using SheetParagraph = Paragraph;
using SheetNotice = Notice;
using SheetFacts = Facts;
using SheetList = List;
using SheetTable = Table;
using SheetForm = Form;
using SheetBlock = DocumentBlock;
using SheetSection = Section;
using Sheet = Document;
inline std::string sheet_text(const Sheet& sheet, const PageStyle& style) {
  return document_text(sheet, style);
}
inline std::string sheet_markdown(const Sheet& sheet) { return document_markdown(sheet); }
inline std::string sheet_html(const Sheet& sheet) { return document_html(sheet); }

}  // namespace mendworth
