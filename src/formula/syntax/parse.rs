//! Tokens to a tree, by operator precedence (Pratt 1973): or < and < not < comparison < sum <
//! product < minus < power. Depth and length are bounded, since rule files come from strangers.

use super::expression::{Argument, Arithmetic, Comparison, Expression, Form};
use super::fault::{Fault, Span};
use super::limits::{MAX_BYTES, MAX_NESTING, MAX_TOKENS};
use super::mistake::Mistake;
use super::token::{Placed, Token, tokens};
use crate::quantity::{Unit, read_unsettled};

/// Reads a formula. A decimal comma is read where the whole text is one value.
///
/// # Errors
/// The first mistake found, with its place.
///
/// ```
/// use boostwright::formula::parse;
///
/// let tree = parse("gate_area(port) / 2").expect("a formula");
/// assert_eq!(tree.names()[0].0, "port");
/// assert_eq!(parse("1 + ) 2").expect_err("a mistake").span, 4..5);
/// ```
pub fn parse(text: &str) -> Result<Expression, Fault> {
    if text.len() > MAX_BYTES {
        return Err(Fault::new(0..text.len(), Mistake::TooLong { bytes: text.len() }));
    }
    let with_point = decimal_comma_to_point(text);
    let tokens = tokens(with_point.as_deref().unwrap_or(text))?;
    if tokens.len() > MAX_TOKENS {
        return Err(Fault::new(0..text.len(), Mistake::TooManyTokens));
    }
    let mut parser = Parser { tokens: &tokens, at: 0, depth: 0 };
    let expression = parser.expression(0)?;
    match parser.peek() {
        Token::End => Ok(expression),
        Token::Close => Err(parser.fault(Mistake::ClosesNothing)),
        Token::Assign => Err(parser.fault(Mistake::AssignOutsideCall)),
        Token::Comma => Err(parser.fault(Mistake::CommaOutsideCall)),
        _ => Err(parser.fault(Mistake::NoOperator)),
    }
}

/// `0,85 bar ± 0,02` as a whole is one value; the point keeps every span where it was. Repeated
/// readings (`0,85; 0,86 bar`) are no formula.
fn decimal_comma_to_point(text: &str) -> Option<String> {
    let one_value = text.contains(',') && !text.contains(';') && read_unsettled(text).is_ok();
    one_value.then(|| text.replace(',', "."))
}

struct Parser<'a> {
    tokens: &'a [Placed],
    at: usize,
    depth: usize,
}

/// Binding powers: an operator takes what binds tighter than it.
const OR: u8 = 1;
const AND: u8 = 2;
const NOT: u8 = 3;
const COMPARE: u8 = 4;
const SUM: u8 = 5;
const PRODUCT: u8 = 6;
const MINUS: u8 = 7;
const POWER: u8 = 8;

enum Operator {
    Arithmetic(Arithmetic),
    Comparison(Comparison),
    And,
    Or,
}

fn operator(token: &Token) -> Option<(Operator, u8)> {
    Some(match token {
        Token::Plus => (Operator::Arithmetic(Arithmetic::Add), SUM),
        Token::Minus => (Operator::Arithmetic(Arithmetic::Subtract), SUM),
        Token::Times => (Operator::Arithmetic(Arithmetic::Multiply), PRODUCT),
        Token::Over => (Operator::Arithmetic(Arithmetic::Divide), PRODUCT),
        Token::Caret => (Operator::Arithmetic(Arithmetic::Power), POWER),
        Token::Comparison(comparison) => (Operator::Comparison(*comparison), COMPARE),
        Token::Word(word) if word == "and" => (Operator::And, AND),
        Token::Word(word) if word == "or" => (Operator::Or, OR),
        _ => return None,
    })
}

impl Parser<'_> {
    fn placed(&self) -> &Placed {
        // tokens() ends every list with End, and advance() never passes it.
        &self.tokens[self.at.min(self.tokens.len() - 1)]
    }

    fn peek(&self) -> &Token {
        &self.placed().token
    }

    fn span(&self) -> Span {
        self.placed().span.clone()
    }

    fn advance(&mut self) {
        if self.at + 1 < self.tokens.len() {
            self.at += 1;
        }
    }

    fn fault(&self, mistake: Mistake) -> Fault {
        Fault::new(self.span(), mistake)
    }

    fn at_word(&self, word: &str) -> bool {
        matches!(self.peek(), Token::Word(found) if found == word)
    }

    fn expression(&mut self, minimum: u8) -> Result<Expression, Fault> {
        self.depth += 1;
        if self.depth > MAX_NESTING {
            return Err(self.fault(Mistake::TooNested));
        }
        let mut left = self.operand()?;
        let mut compared = false;
        while let Some((operator, power)) =
            operator(self.peek()).filter(|(_, power)| *power >= minimum.max(1))
        {
            if power == COMPARE && std::mem::replace(&mut compared, true) {
                return Err(self.fault(Mistake::ChainedComparisons));
            }
            self.advance();
            // Left-associative, but for the power: 2^3^2 is 2^9.
            let right = self.expression(if power == POWER { power } else { power + 1 })?;
            left = join(operator, left, right);
        }
        self.depth -= 1;
        Ok(left)
    }

    fn operand(&mut self) -> Result<Expression, Fault> {
        let Placed { token, span } = self.placed().clone();
        match token {
            Token::Number { value, unit, uncertainty } => {
                self.advance();
                Ok(Expression { span, form: Form::Literal { value, unit, uncertainty } })
            }
            Token::Minus => {
                self.advance();
                let inner = self.expression(MINUS)?;
                let span = span.start..inner.span.end;
                Ok(Expression { span, form: negated(inner) })
            }
            Token::Open => {
                self.advance();
                let inner = self.expression(0)?;
                let end = self.close(&span)?;
                Ok(Expression { span: span.start..end, ..inner })
            }
            Token::Word(word) => self.word(&word, span),
            Token::End => Err(self.fault(Mistake::NoEnd)),
            _ => Err(self.fault(Mistake::NoValue)),
        }
    }

    fn close(&mut self, open: &Span) -> Result<usize, Fault> {
        let end = self.span().end;
        match self.peek() {
            Token::Close => {
                self.advance();
                Ok(end)
            }
            Token::End => Err(Fault::new(open.clone(), Mistake::NeverClosed)),
            _ => Err(self.fault(Mistake::NoOperatorOrClose)),
        }
    }

    fn word(&mut self, word: &str, span: Span) -> Result<Expression, Fault> {
        match word {
            "not" => {
                self.advance();
                let inner = self.expression(NOT)?;
                Ok(Expression {
                    span: span.start..inner.span.end,
                    form: Form::Not(Box::new(inner)),
                })
            }
            "if" => self.choice(&span),
            "then" | "else" | "and" | "or" => {
                Err(self.fault(Mistake::NoValueBefore { word: word.to_owned() }))
            }
            "yes" | "no" => {
                self.advance();
                Ok(Expression { span, form: Form::Bool(word == "yes") })
            }
            _ => {
                self.advance();
                if *self.peek() == Token::Open {
                    self.call(word, span)
                } else {
                    Ok(Expression { span, form: Form::Name(word.to_owned()) })
                }
            }
        }
    }

    fn choice(&mut self, span: &Span) -> Result<Expression, Fault> {
        self.advance();
        let condition = self.expression(0)?;
        self.keyword("then", Mistake::NoThen)?;
        let then = self.expression(0)?;
        self.keyword("else", Mistake::NoElse)?;
        let otherwise = self.expression(0)?;
        Ok(Expression {
            span: span.start..otherwise.span.end,
            form: Form::IfElse {
                condition: Box::new(condition),
                then: Box::new(then),
                otherwise: Box::new(otherwise),
            },
        })
    }

    fn keyword(&mut self, word: &str, missing: Mistake) -> Result<(), Fault> {
        if !self.at_word(word) {
            return Err(self.fault(missing));
        }
        self.advance();
        Ok(())
    }

    fn call(&mut self, function: &str, name_span: Span) -> Result<Expression, Fault> {
        let open = self.span();
        self.advance();
        let mut arguments = Vec::new();
        while *self.peek() != Token::Close {
            let name = self.argument_name();
            let value = self.expression(0)?;
            arguments.push(Argument { name, value });
            if *self.peek() != Token::Comma {
                break;
            }
            self.advance();
        }
        let end = self.close(&open)?;
        Ok(Expression {
            span: name_span.start..end,
            form: Form::Call { function: function.to_owned(), name_span, arguments },
        })
    }

    fn argument_name(&mut self) -> Option<(String, Span)> {
        let next = self.tokens.get(self.at + 1).map(|placed| &placed.token);
        let (Token::Word(word), Some(Token::Assign)) = (self.peek(), next) else { return None };
        let named = (word.clone(), self.span());
        self.advance();
        self.advance();
        Some(named)
    }
}

fn join(operator: Operator, left: Expression, right: Expression) -> Expression {
    let span = left.span.start..right.span.end;
    let (left, right) = (Box::new(left), Box::new(right));
    let form = match operator {
        Operator::Arithmetic(operator) => Form::Arithmetic { operator, left, right },
        Operator::Comparison(operator) => Form::Comparison { operator, left, right },
        Operator::And => Form::And { left, right },
        Operator::Or => Form::Or { left, right },
    };
    Expression { span, form }
}

/// A leading minus belongs to the number behind it: −20 °C is a point, not the negative of one.
fn negated(inner: Expression) -> Form {
    match inner.form {
        Form::Literal { value, unit, uncertainty } if unit.as_ref().is_some_and(Unit::is_point) => {
            Form::Literal { value: -value, unit, uncertainty }
        }
        form => Form::Negated(Box::new(Expression { form, ..inner })),
    }
}
