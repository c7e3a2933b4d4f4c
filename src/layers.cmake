add_layer(units
  SOURCES length.cc number.cc
  HEADERS length.h number.h
  NEEDS fmt::fmt)
add_layer(diag
  SOURCES diagnostic.cc words.cc
  HEADERS diagnostic.h words.h
  NEEDS fmt::fmt)
add_layer(drawing
  SOURCES cards.cc cutting_template.cc labels.cc scene.cc sheet.cc
  HEADERS cards.h cutting_template.h labels.h scene.h sheet.h
  USES units diag pouch)
add_layer(render
  SOURCES finish.cc fonts.cc ink.cc pdf.cc png.cc svg.cc text.cc
  HEADERS finish.h fonts.h ink.h pdf.h png.h svg.h text.h
  USES units diag drawing paper
  NEEDS PkgConfig::CAIRO PkgConfig::PANGO PkgConfig::QPDF)
add_layer(pouch
  SOURCES cards.cc construction.cc content.cc folded.cc pouch.cc run.cc sizes.cc water.cc
  HEADERS cards.h construction.h content.h folded.h pouch.h request.h run.h sizes.h water.h
  USES units diag)
